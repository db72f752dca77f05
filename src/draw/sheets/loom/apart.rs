//! The loom taken apart, seen from the front right and above: each part drawn where it goes, moved out along the way it comes.

use kurbo::{Point, Shape, Vec2};

use super::heddle_high;
use crate::draw::dimension as dim;
use crate::draw::sheet::{Draw, Fill, Line, Sheet, through};
use crate::draw::title::{self, MARGIN};
use crate::machine::loom::{HEDDLE_SPACING, Loom, Stands, Stiffening};

type P3 = [f64; 3];

/// x goes right and down, y (back) right and up, z up, all at the same scale (isometric).
fn flat(p: P3) -> Vec2 {
    let (cos, sin) = (0.866_025_403_784_438_6, 0.5);
    Vec2::new((p[0] + p[1]) * cos, (p[0] - p[1]) * sin - p[2])
}

/// A thing to draw: its faces, how near it is, its mark.
struct Thing {
    near: f64,
    faces: Vec<(Fill, Vec<P3>)>,
    /// Its mark, and where on it the mark may point: the first that nothing nearer hides.
    mark: Option<(&'static str, Vec<P3>)>,
}

/// Where along a part its mark may point.
const ALONG: [f64; 5] = [0.5, 0.3, 0.7, 0.15, 0.85];

fn nearness(p: P3) -> f64 {
    p[0] - p[1] + p[2]
}

/// A board: two corners, moved by `out`.
fn board(mark: &'static str, a: P3, b: P3, out: P3) -> Thing {
    let lo = [0, 1, 2].map(|i| a[i].min(b[i]) + out[i]);
    let hi = [0, 1, 2].map(|i| a[i].max(b[i]) + out[i]);
    let [x0, y0, z0] = lo;
    let [x1, y1, z1] = hi;
    let faces = vec![
        (Fill::Part, vec![[x0, y0, z1], [x1, y0, z1], [x1, y1, z1], [x0, y1, z1]]),
        (Fill::Part, vec![[x0, y0, z0], [x1, y0, z0], [x1, y0, z1], [x0, y0, z1]]),
        (Fill::OtherPart, vec![[x1, y0, z0], [x1, y1, z0], [x1, y1, z1], [x1, y0, z1]]),
    ];
    let middle = [0, 1, 2].map(|i| (lo[i] + hi[i]) / 2.0);
    let size = [0, 1, 2].map(|i| hi[i] - lo[i]);
    // On the face one sees most of: the right one of what runs back, else the front one.
    let (long, face) = match size {
        [x, y, z] if y > x && y > z => (1, [x1, middle[1], middle[2]]),
        [x, _, z] if z > x => (2, [middle[0], y0, middle[2]]),
        _ => (0, [middle[0], y0, middle[2]]),
    };
    let along = |share: f64| [0, 1, 2].map(|i| if i == long { lo[i] + share * size[i] } else { face[i] });
    Thing { near: nearness(middle), faces, mark: Some((mark, ALONG.map(along).to_vec())) }
}

/// A rod along x from `a` for `long`, moved by `out`.
fn rod(mark: &'static str, a: P3, long: f64, radius: f64, out: P3) -> Thing {
    let start = [0, 1, 2].map(|i| a[i] + out[i]);
    let ring = |x: f64| -> Vec<P3> {
        (0..24)
            .map(|i| f64::from(i) * std::f64::consts::TAU / 24.0)
            .map(|t| [x, start[1] + radius * libm::cos(t), start[2] + radius * libm::sin(t)])
            .collect()
    };
    let (back, front) = (ring(start[0]), ring(start[0] + long));
    let body = hull(&[back, front.clone()].concat());
    let faces = vec![(Fill::Part, body), (Fill::OtherPart, front)];
    let middle = [start[0] + long / 2.0, start[1], start[2]];
    Thing {
        near: nearness(middle),
        faces,
        mark: Some((mark, ALONG.map(|share| [start[0] + long * share, start[1], start[2]]).to_vec())),
    }
}

/// The corners that make the outline of a flattened cloud (monotone chain, Andrew 1979).
fn hull(points: &[P3]) -> Vec<P3> {
    let mut sorted: Vec<P3> = points.to_vec();
    sorted.sort_by(|a, b| flat(*a).x.total_cmp(&flat(*b).x).then(flat(*a).y.total_cmp(&flat(*b).y)));
    let turn = |a: P3, b: P3, c: P3| (flat(b) - flat(a)).cross(flat(c) - flat(a));
    let half = |list: &[P3]| {
        let mut out: Vec<P3> = Vec::new();
        for p in list {
            while out.len() >= 2 && turn(out[out.len() - 2], out[out.len() - 1], *p) <= 0.0 {
                out.pop();
            }
            out.push(*p);
        }
        out.pop();
        out
    };
    let mut out = half(&sorted);
    sorted.reverse();
    out.extend(half(&sorted));
    out
}

/// The sheet, A4 on its side.
pub(super) fn sheet(loom: &Loom) -> Sheet {
    let describe = "The loom taken apart: each part drawn near its place, with its mark.";
    let mut sheet = Sheet::new("loom-apart", "The loom taken apart", describe, 297.0, 210.0);
    let top = title::head(
        &mut sheet,
        "Each part drawn beside its place, moved out along the way it comes. Not for measuring.",
    );
    let mut things = frame(loom);
    things.extend(gear(loom));
    things.sort_by(|a, b| a.near.total_cmp(&b.near));
    let all: Vec<Vec2> =
        things.iter().flat_map(|t| t.faces.iter().flat_map(|f| f.1.iter().map(|p| flat(*p)))).collect();
    let least = |pick: fn(&Vec2) -> f64| all.iter().map(pick).fold(f64::INFINITY, f64::min);
    let most = |pick: fn(&Vec2) -> f64| all.iter().map(pick).fold(f64::NEG_INFINITY, f64::max);
    let (low, high) = (Vec2::new(least(|p| p.x), least(|p| p.y)), Vec2::new(most(|p| p.x), most(|p| p.y)));
    let room = Vec2::new(277.0 - 16.0, sheet.height - top - MARGIN - title::FOOT - 12.0);
    let scale = (room.x / (high.x - low.x)).min(room.y / (high.y - low.y));
    let shift = Vec2::new(MARGIN + 8.0 + (room.x - (high.x - low.x) * scale) / 2.0, top + 6.0);
    let at = |p: P3| (shift + (flat(p) - low) * scale).to_point();
    for thing in &things {
        for (fill, face) in &thing.faces {
            sheet.polygon(*fill, Some(Line::Outline), face.iter().map(|p| at(*p)));
        }
    }
    marks(&mut sheet, &things, &at);
    title::foot(&mut sheet, "");
    sheet
}

/// How far a ring keeps from what other marks point at, mm.
const CLEAR: f64 = 7.0;

/// Rings beside their parts, pushed apart where they would meet.
fn marks(sheet: &mut Sheet, things: &[Thing], at: &impl Fn(P3) -> Point) {
    let mut done: Vec<&str> = Vec::new();
    let mut rings: Vec<(Point, Point, &str)> = Vec::new();
    // The nearest part of a mark that shows a place to point at; where all are hidden, the nearest.
    let covers = |face: &[P3], p: P3| {
        let mut outline = through(face.iter().map(|q| at(*q)));
        outline.close_path();
        outline.contains(at(p))
    };
    let hidden = |nearer: &[Thing], p: P3| nearer.iter().flat_map(|t| &t.faces).any(|(_, face)| covers(face, p));
    let seen = |(i, thing): (usize, &Thing)| {
        let (mark, places) = thing.mark.as_ref()?;
        let free = places.iter().find(|p| !hidden(&things[i + 1..], **p));
        Some((*mark, free.copied(), *places.first()?))
    };
    let all: Vec<_> = things.iter().enumerate().rev().filter_map(seen).collect();
    for (mark, _, first) in &all {
        if !done.contains(mark) {
            done.push(mark);
            let free = all.iter().find_map(|(other, free, _)| free.filter(|_| other == mark));
            let target = at(free.unwrap_or(*first));
            rings.push((target + Vec2::new(-9.0, 9.0), target, mark));
        }
    }
    for _ in 0..60 {
        for i in 0..rings.len() {
            for j in 0..i {
                let way = rings[i].0 - rings[j].0;
                let gap = way.hypot();
                if gap < 8.6 {
                    let push = if gap > 1e-6 { way / gap } else { Vec2::new(1.0, 0.0) } * (8.7 - gap) / 2.0;
                    rings[i].0 += push;
                    rings[j].0 -= push;
                }
            }
            // nor does a ring lie where another mark points
            for j in (0..rings.len()).filter(|j| *j != i) {
                let way = rings[i].0 - rings[j].1;
                let gap = way.hypot();
                if gap > 1e-6 && gap < CLEAR {
                    rings[i].0 += way / gap * (CLEAR - gap);
                }
            }
        }
    }
    for (ring, target, mark) in rings {
        dim::mark(sheet, ring, target, mark);
    }
}

fn frame(loom: &Loom) -> Vec<Thing> {
    let l = &loom.layout;
    let mut out = Vec::new();
    let (inner, outer) = (l.span / 2.0, l.wide / 2.0);
    for s in [-1.0, 1.0] {
        let side = [s * 130.0, 0.0, 0.0];
        out.push(board("A1", [s * inner, 0.0, l.rail_top() - l.rail_high], [s * outer, l.deep, l.rail_top()], side));
        if loom.wish.stands == Stands::Floor {
            for y in l.legs {
                let (a, b) = (
                    [s * outer, y - l.leg_wide / 2.0, 0.0],
                    [s * (outer + l.leg_thick), y + l.leg_wide / 2.0, l.rail_top()],
                );
                out.push(board("A2", a, b, [s * 290.0, 0.0, 0.0]));
            }
            out.push(board("A3", [s * inner, 0.0, l.foot - 47.0], [s * outer, l.deep, l.foot + 47.0], side));
        }
    }
    if loom.wish.stands == Stands::Table {
        for y in [80.0, l.deep - 80.0] {
            out.push(board(
                "A4",
                [-inner, y - 13.0, l.rail_top() - l.rail_high],
                [inner, y + 13.0, l.rail_top() - 30.0],
                [0.0, 0.0, -180.0],
            ));
        }
        return out;
    }
    for y in [l.deep * 0.35, l.deep - 60.0] {
        out.push(board("A4", [-inner, y - 13.0, l.foot - 47.0], [inner, y + 13.0, l.foot + 47.0], [0.0, 0.0, -120.0]));
    }
    out.push(board(
        "A5",
        [-inner, l.deep - 80.0, l.rail_top() - 94.0],
        [inner, l.deep - 53.0, l.rail_top()],
        [0.0, 200.0, 0.0],
    ));
    match loom.wish.stiffening {
        Stiffening::Brace => {
            for s in [-1.0, 1.0] {
                out.push(diagonal(
                    [-s * inner, l.deep, l.foot + 60.0],
                    [s * inner, l.deep, l.rail_top()],
                    [0.0, 330.0 + 40.0 * s, 0.0],
                ));
            }
        }
        Stiffening::Shelf => {
            let z = (l.foot + l.rail_top()) / 2.0;
            for y in [l.deep * 0.35, l.deep * 0.65] {
                out.push(board(
                    "A7",
                    [-inner, y - l.rail_high / 2.0, z],
                    [inner, y + l.rail_high / 2.0, z + l.rail_thick],
                    [0.0, 0.0, 0.0],
                ));
            }
        }
        Stiffening::Bare => {}
    }
    out
}

fn diagonal(a: P3, b: P3, out: P3) -> Thing {
    let (a, b) = ([0, 1, 2].map(|i| a[i] + out[i]), [0, 1, 2].map(|i| b[i] + out[i]));
    let wide = 22.0;
    let face = vec![
        [a[0], a[1], a[2] - wide],
        [b[0], b[1], b[2] - wide],
        [b[0], b[1], b[2] + wide],
        [a[0], a[1], a[2] + wide],
    ];
    Thing {
        near: nearness([0.0, a[1], (a[2] + b[2]) / 2.0]),
        faces: vec![(Fill::Part, face)],
        mark: Some(("A6", ALONG.map(|share| [0, 1, 2].map(|i| a[i] + (b[i] - a[i]) * share)).to_vec())),
    }
}

fn gear(loom: &Loom) -> Vec<Thing> {
    let l = &loom.layout;
    let outer = l.wide / 2.0;
    let beam = loom.part("B1").and_then(crate::machine::loom::Piece::length).unwrap_or(l.wide);
    let from = -outer - l.leg_thick;
    let wide = loom.wish.weaving_width.to_si() * 500.0 + 10.0;
    let mut out = vec![
        rod("B1", [from, l.cloth_beam.0, l.cloth_beam.1], beam, l.beam / 2.0, [60.0, -330.0, 0.0]),
        rod("B2", [from, l.warp_beam.0, l.warp_beam.1], beam, l.beam / 2.0, [60.0, 420.0, 60.0]),
        board("B3", [-outer, 0.0, l.rail_top()], [outer, l.bar_deep, l.warp], [0.0, -60.0, 190.0]),
        board(
            "B4",
            [-outer, l.back - l.bar_deep / 2.0, l.rail_top()],
            [outer, l.back + l.bar_deep / 2.0, l.warp],
            [0.0, 60.0, 190.0],
        ),
    ];
    for (i, y) in [-470.0, -540.0].into_iter().enumerate() {
        let mark = if i == 0 { "C1" } else { "C2" };
        out.push(rod(mark, [-wide, l.cloth_beam.0, l.cloth_beam.1], 2.0 * wide, 6.0, [0.0, y, 0.0]));
    }
    out.push(rod("C3", [-wide, l.warp_beam.0, l.warp_beam.1], 2.0 * wide, 4.0, [0.0, 500.0, 60.0]));
    out.push(cords(loom, wide));
    out.extend(heddles(loom));
    let post = loom.part("E1").and_then(crate::machine::loom::Piece::length).unwrap_or(170.0);
    for s in [-1.0, 1.0] {
        out.push(board(
            "E1",
            [s * (l.span / 2.0 - 18.0), l.heddles[0] - 47.0, l.rail_top()],
            [s * l.span / 2.0, l.heddles[0] + 47.0, l.rail_top() + post],
            [s * 20.0, 0.0, 150.0],
        ));
    }
    out.extend(wheels(loom));
    out.push(board(
        "G1",
        [-150.0, 0.0, l.warp],
        [150.0, loom.wish.shuttle_width.to_si() * 1e3, l.warp + loom.wish.shuttle_height.to_si() * 1e3],
        [-100.0, -260.0, 330.0],
    ));
    out
}

/// Apron cords from the cloth beam to its rod.
fn cords(loom: &Loom, wide: f64) -> Thing {
    let l = &loom.layout;
    let faces = (0..8)
        .map(|i| -wide + 2.0 * wide * f64::from(i) / 7.0)
        .map(|x| {
            let (y0, y1, z) = (l.cloth_beam.0 - 470.0, l.cloth_beam.0 - 330.0, l.cloth_beam.1);
            (Fill::Ink, vec![[x, y0, z], [x + 4.0, y0, z], [x + 4.0, y1, z], [x, y1, z]])
        })
        .collect();
    let at = [wide * 0.7, l.cloth_beam.0 - 400.0, l.cloth_beam.1];
    Thing { near: nearness([0.0, l.cloth_beam.0 - 430.0, l.cloth_beam.1]), faces, mark: Some(("C4", vec![at])) }
}

/// The reed between its bars, in front of the shafts.
fn reed(loom: &Loom) -> Vec<Thing> {
    let (l, h) = (&loom.layout, &loom.wish.heddle);
    let (outer, high, comb) = (l.wide / 2.0, h.wish.slot_height / 2.0, h.comb.min(l.span) / 2.0);
    let (y, up) = (l.heddles[0] - 30.0, [0.0, -90.0, 330.0]);
    let bar = |low: f64| board("D4", [-outer, y - 9.0, l.warp + low], [outer, y + 9.0, l.warp + low + 44.0], up);
    let mut dents = board("D3", [-comb, y - 1.5, l.warp - high], [comb, y + 1.5, l.warp + high], up);
    for k in 0..80 {
        let x = -comb + 2.0 * comb * (f64::from(k) + 0.5) / 80.0;
        let (a, low, top) = (y - 1.5 + up[1], l.warp - high + up[2], l.warp + high + up[2]);
        dents.faces.push((Fill::Paper, vec![[x, a, low], [x + 3.0, a, low], [x + 3.0, a, top], [x, a, top]]));
    }
    let mut over = bar(high);
    over.mark = None;
    vec![bar(-high - 44.0), dents, over]
}

fn heddles(loom: &Loom) -> Vec<Thing> {
    let (l, h) = (&loom.layout, &loom.wish.heddle);
    let (outer, high, comb) = (l.wide / 2.0, heddle_high(h), h.comb.min(l.span) / 2.0);
    let mut out = if h.wish.shafts().is_some() { reed(loom) } else { Vec::new() };
    for i in 0..h.wish.frames() as usize {
        let y = l.heddles[0] + HEDDLE_SPACING * i as f64;
        let up = [0.0, 110.0 * i as f64 - 40.0, 330.0];
        out.push(board(
            "D1",
            [-outer, y - 9.0, l.warp - high / 2.0 - 22.0],
            [outer, y + 9.0, l.warp - high / 2.0 + 22.0],
            up,
        ));
        let mut sheet = board("D2", [-comb, y - 1.5, l.warp - high / 2.0], [comb, y + 1.5, l.warp + high / 2.0], up);
        let slots = 40;
        for k in 0..slots {
            let x = -comb + 2.0 * comb * (f64::from(k) + 0.5) / f64::from(slots);
            let (a, b, c) =
                (y - 1.5 + up[1], l.warp - h.wish.slot_height / 2.0 + up[2], l.warp + h.wish.slot_height / 2.0 + up[2]);
            sheet.faces.push((Fill::Paper, vec![[x, a, b], [x + 6.0, a, b], [x + 6.0, a, c], [x, a, c]]));
        }
        out.push(sheet);
        let mut top = board(
            "D1",
            [-outer, y - 9.0, l.warp + high / 2.0 - 22.0],
            [outer, y + 9.0, l.warp + high / 2.0 + 22.0],
            up,
        );
        top.mark = None;
        out.push(top);
    }
    out
}

fn wheels(loom: &Loom) -> Vec<Thing> {
    let l = &loom.layout;
    let x = l.wide / 2.0 + l.leg_thick;
    let mut out = Vec::new();
    for (beam, dy, dz) in [(l.cloth_beam, -330.0, 0.0), (l.warp_beam, 420.0, 60.0)] {
        let out_x = 330.0;
        let ring = |x: f64, outline: &[[f64; 2]], turn: (f64, f64)| -> Vec<P3> {
            outline.iter().map(|p| [x, beam.0 + dy + turn.0 + p[0], beam.1 + dz + turn.1 + p[1]]).collect()
        };
        let (a, b) = (x + out_x, x + out_x + loom.wheel.thick);
        let (back, front) = (ring(a, &loom.ratchet.outer, (0.0, 0.0)), ring(b, &loom.ratchet.outer, (0.0, 0.0)));
        let hole: Vec<P3> = ring(b, &loom.ratchet.holes.first().cloned().unwrap_or_default(), (0.0, 0.0));
        let mut faces = vec![(Fill::Part, hull(&[back, front.clone()].concat())), (Fill::OtherPart, front)];
        if !hole.is_empty() {
            faces.push((Fill::Paper, hole));
        }
        let r = loom.wheel.diameter / 2.0;
        out.push(Thing {
            near: nearness([b, beam.0 + dy, beam.1 + dz]),
            faces,
            mark: Some(("F1", vec![[b, beam.0 + dy, beam.1 + dz - r * 0.7]])),
        });
        let pawl = ring(b, &loom.pawl.outer, (-r - 60.0, r + 30.0));
        out.push(Thing {
            near: nearness([b, beam.0 + dy, beam.1 + dz + r]),
            faces: vec![(Fill::OtherPart, pawl)],
            mark: Some(("F2", vec![[b, beam.0 + dy - r - 40.0, beam.1 + dz + r + 30.0]])),
        });
        let handle = board(
            "F3",
            [b + 60.0, beam.0 - 7.0, beam.1 - 130.0],
            [b + 75.0, beam.0 + 7.0, beam.1 + 130.0],
            [60.0, dy, dz],
        );
        out.push(handle);
    }
    out
}
