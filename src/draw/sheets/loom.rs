//! The loom to scale from the front and from the side, taken apart, what holds it, and the order to build it in.

mod apart;
mod build;

use super::view::{View, fitting};
use crate::draw::caution::{self, Hazard};
use crate::draw::dimension as dim;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Sheet, Type};
use crate::draw::title::{self, MARGIN};
use crate::machine::heddle::Heddle;
use crate::machine::loom::{HEDDLE_SPACING, Loom, Stands, Stiffening};

/// Front and side, taken apart, what holds, build order.
pub fn sheets(loom: &Loom) -> Vec<Sheet> {
    let mut out = vec![views(loom), apart::sheet(loom)];
    out.extend(build::sheets(loom));
    out
}

/// Front and side at one scale, A4 on its side.
pub fn views(loom: &Loom) -> Sheet {
    let describe = "The loom from the front and from the side, to scale, each part with its mark.";
    let mut sheet = Sheet::new("loom", "The loom", describe, 297.0, 210.0);
    let ruler = loom.wish.system.ruler();
    let units = ruler.said();
    let lead = format!("{units} Marks in rings are those of the parts list; cut by that list, not by this drawing.");
    let top = title::head(&mut sheet, &lead);
    let l = &loom.layout;
    let high = l.warp + heddle_high(&loom.wish.heddle) / 2.0 + 30.0;
    let right = l.wide / 2.0 + l.leg_thick + loom.wheel.thick + 70.0;
    let wide = l.wide / 2.0 + l.leg_thick + right;
    let scale = fitting((wide + l.deep, high), (277.0 - 62.0, 104.0));
    sheet.scale = Some(scale);
    let floor = top + 15.0 + high * scale;
    let front = View::new(MARGIN + 12.0 + (wide - right) * scale, floor, scale).written(ruler);
    from_front(&mut sheet, &front, loom);
    let side = View::new(MARGIN + 40.0 + wide * scale, floor, scale).written(ruler);
    from_side(&mut sheet, &side, loom);
    let true_to = ruler.of("1 mm", "1/32 in");
    let (y, words) = match loom.wish.stands {
        Stands::Floor => {
            let seat = ruler.says(loom.wish.sitter.seat_for(l.warp));
            let words = format!(
                "Seat {seat} high for this weaver; the warp at elbow height. Diagonals equal to {true_to}, floor level, feet on rubber."
            );
            (floor + 16.0, words)
        }
        Stands::Table => {
            let table = ruler.says(loom.wish.sitter.elbow_height() - l.warp);
            let words = format!(
                "On a table {table} high the warp comes to this weaver's elbow. Wheels and handles hang beside the table. Diagonals equal to {true_to}."
            );
            (floor + 30.0, words)
        }
    };
    sheet.words(Type::Small, Anchor::Start, (MARGIN, y), words);
    caution::draw(&mut sheet, (MARGIN, y + 3.0), 277.0, &[Hazard::Tension]);
    title::foot(&mut sheet, "");
    sheet
}

/// Height of a heddle, bars included.
pub(super) fn heddle_high(h: &Heddle) -> f64 {
    h.wish.slot_height + 2.0 * 16.0
}

fn from_front(sheet: &mut Sheet, v: &View, loom: &Loom) {
    let l = &loom.layout;
    let (half, outside) = (l.wide / 2.0, l.wide / 2.0 + l.leg_thick);
    let floor = loom.wish.stands == Stands::Floor;
    let heading = v.at(-outside, l.warp + heddle_high(&loom.wish.heddle) / 2.0 + 30.0);
    sheet.words(Type::Strong, Anchor::Start, (heading.x, heading.y - 8.0), "From the front");
    frame_front(sheet, v, loom, floor);
    beam_front(sheet, v, loom);
    heddle_front(sheet, v, loom);
    v.part(sheet, Fill::Part, (-half, l.rail_top()), (half, l.warp));
    if floor {
        v.line(sheet, Line::Detail, (-outside - 40.0, 0.0), (outside + 40.0, 0.0));
    }
    front_measures(sheet, v, loom, outside);
    front_marks(sheet, v, loom, outside, floor);
}

fn frame_front(sheet: &mut Sheet, v: &View, loom: &Loom, floor: bool) {
    let l = &loom.layout;
    let half = l.wide / 2.0;
    if floor {
        let cross = 94.0 / 2.0;
        v.part(sheet, Fill::Part, (-l.span / 2.0, l.foot - cross), (l.span / 2.0, l.foot + cross));
        if loom.wish.stiffening == Stiffening::Brace {
            let (low, high) = (l.foot + cross, l.rail_top() - 20.0);
            for sign in [1.0, -1.0] {
                v.trace(sheet, Line::Hidden, &[(-sign * l.span / 2.0, low), (sign * l.span / 2.0, high)]);
            }
        }
        if loom.wish.stiffening == Stiffening::Shelf {
            let z = (l.foot + l.rail_top()) / 2.0;
            v.part(sheet, Fill::Part, (-l.span / 2.0, z - l.rail_thick / 2.0), (l.span / 2.0, z + l.rail_thick / 2.0));
        }
        v.edge(sheet, Line::Hidden, (-l.span / 2.0, l.rail_top() - 94.0), (l.span / 2.0, l.rail_top()));
    }
    for sign in [1.0, -1.0] {
        let rail = [(sign * l.span / 2.0, l.rail_top() - l.rail_high), (sign * half, l.rail_top())];
        v.part(sheet, Fill::Part, rail[0], rail[1]);
        if floor {
            v.part(sheet, Fill::Part, (sign * half, 0.0), (sign * (half + l.leg_thick), l.rail_top()));
            v.part(sheet, Fill::Part, (sign * l.span / 2.0, l.foot - 47.0), (sign * half, l.foot + 47.0));
        }
    }
}

fn beam_front(sheet: &mut Sheet, v: &View, loom: &Loom) {
    let l = &loom.layout;
    let (z, r) = (l.cloth_beam.1, l.beam / 2.0);
    v.part(sheet, Fill::OtherPart, (-l.span / 2.0 + 2.0, z - r), (l.span / 2.0 - 2.0, z + r));
    // Cloth on it and the cords' side.
    let wide = loom.wish.width_in_reed.to_si() * 500.0;
    v.part(sheet, Fill::Weft, (-wide, z - l.roll / 2.0), (wide, z + l.roll / 2.0));
    let (j, out) = (l.journal / 2.0, l.wide / 2.0 + l.leg_thick);
    v.edge(sheet, Line::Hidden, (l.span / 2.0 - 2.0, z - j), (out, z + j));
    v.edge(sheet, Line::Hidden, (-l.span / 2.0 + 2.0, z - j), (-out, z + j));
    v.part(
        sheet,
        Fill::OtherPart,
        (out + 2.0, z - loom.wheel.diameter / 2.0),
        (out + 2.0 + loom.wheel.thick, z + loom.wheel.diameter / 2.0),
    );
    v.part(sheet, Fill::Part, (out + 2.0 + loom.wheel.thick, z - j), (out + loom.wheel.thick + 48.0, z + j));
    v.part(sheet, Fill::Part, (out + loom.wheel.thick + 26.0, z - 130.0), (out + loom.wheel.thick + 41.0, z + 130.0));
    v.line(sheet, Line::Centre, (-out - 20.0, z), (out + loom.wheel.thick + 60.0, z));
}

fn heddle_front(sheet: &mut Sheet, v: &View, loom: &Loom) {
    let (l, h) = (&loom.layout, &loom.wish.heddle);
    let (half, high) = (l.wide / 2.0, heddle_high(h) / 2.0);
    for (low, top) in [(l.warp + high - 22.0, l.warp + high + 22.0), (l.warp - high - 22.0, l.warp - high + 22.0)] {
        v.part(sheet, Fill::Part, (-half, low), (half, top));
    }
    // A few blades stand for all.
    let comb = h.comb.min(l.span);
    let n = 36;
    for i in 0..=n {
        let x = -comb / 2.0 + comb * f64::from(i) / f64::from(n);
        v.line(sheet, Line::Detail, (x, l.warp - high + 22.0), (x, l.warp + high - 22.0));
    }
    let wide = loom.wish.width_in_reed.to_si() * 500.0;
    for i in 0..=60 {
        let x = -wide + 2.0 * wide * f64::from(i) / 60.0;
        v.line(sheet, Line::Grid, (x, l.warp), (x, l.warp - 6.0));
    }
}

fn front_measures(sheet: &mut Sheet, v: &View, loom: &Loom, outside: f64) {
    let l = &loom.layout;
    let ground = v.at(0.0, 0.0).y;
    // Between the feet; a loom without feet has no room there.
    let (inner, outer) = match loom.wish.stands {
        Stands::Floor => (ground - 4.0, ground + 6.5),
        Stands::Table => (ground + 6.5, ground + 13.0),
    };
    dim::horizontal(sheet, v.at(-l.span / 2.0, 60.0), v.at(l.span / 2.0, 60.0), inner, &v.len(l.span));
    dim::horizontal(sheet, v.at(-outside, 0.0), v.at(outside, 0.0), outer, &v.len(2.0 * outside));
    let left = v.at(-outside, 0.0).x - 8.0;
    dim::vertical(sheet, v.at(-outside, 0.0), v.at(-l.wide / 2.0, l.warp), left, &v.len(l.warp));
    let wide = loom.wish.weaving_width.to_si() * 500.0;
    let over = v.at(0.0, l.warp + heddle_high(&loom.wish.heddle) / 2.0 + 22.0).y - 3.5;
    dim::horizontal(
        sheet,
        v.at(-wide, l.warp + 30.0),
        v.at(wide, l.warp + 30.0),
        over,
        &format!("weaving width {}", v.len(2.0 * wide)),
    );
}

fn front_marks(sheet: &mut Sheet, v: &View, loom: &Loom, outside: f64, floor: bool) {
    let l = &loom.layout;
    let x = v.at(outside + loom.wheel.thick + 70.0, 0.0).x + 3.0;
    let mut right: Vec<(&str, (f64, f64))> = vec![
        ("D1", (l.wide / 2.0 - 60.0, l.warp + heddle_high(&loom.wish.heddle) / 2.0)),
        ("B3", (l.wide / 2.0 - 20.0, l.warp - 12.0)),
        ("F3", (outside + loom.wheel.thick + 34.0, l.cloth_beam.1 + 90.0)),
        ("F1", (outside + 2.0 + loom.wheel.thick / 2.0, l.cloth_beam.1 - 30.0)),
        ("B1", (l.span / 2.0 - 12.0, l.cloth_beam.1)),
        ("A1", (l.span / 2.0 + l.rail_thick / 2.0, l.rail_top() - l.rail_high + 10.0)),
    ];
    if floor {
        right.push(("A2", (outside - l.leg_thick / 2.0, 300.0)));
        match loom.wish.stiffening {
            Stiffening::Brace => {
                right.push(("A6", (l.span * 0.3, l.foot + 47.0 + (l.rail_top() - l.foot - 67.0) * 0.2)))
            }
            Stiffening::Shelf => right.push(("A7", (l.span * 0.4, (l.foot + l.rail_top()) / 2.0))),
            Stiffening::Bare => {}
        }
        right.push(("A4", (l.span / 2.0 - 80.0, l.foot)));
    }
    column(sheet, v, x, l.warp + 90.0, &right);
}

/// Marks in a column at `x`, no nearer than their rings, each as near its target's height as that allows.
fn column(sheet: &mut Sheet, v: &View, x: f64, top: f64, marks: &[(&str, (f64, f64))]) {
    let mut y = v.at(0.0, top).y;
    for (mark, target) in marks {
        let wanted = v.at(0.0, target.1).y;
        y = wanted.max(y + 8.4);
        dim::mark(sheet, kurbo::Point::new(x, y), v.at(target.0, target.1), mark);
    }
}

fn from_side(sheet: &mut Sheet, v: &View, loom: &Loom) {
    let l = &loom.layout;
    let floor = loom.wish.stands == Stands::Floor;
    let heading = v.at(0.0, l.warp + heddle_high(&loom.wish.heddle) / 2.0 + 30.0);
    sheet.words(Type::Strong, Anchor::Start, (heading.x - 14.0, heading.y - 8.0), "From the side");
    if floor {
        v.part(sheet, Fill::Part, (0.0, l.foot - 47.0), (l.deep, l.foot + 47.0));
        for y in l.legs {
            v.part(sheet, Fill::Part, (y - l.leg_wide / 2.0, 0.0), (y + l.leg_wide / 2.0, l.rail_top()));
        }
        v.line(sheet, Line::Detail, (-40.0, 0.0), (l.deep + 40.0, 0.0));
    }
    v.part(sheet, Fill::Part, (0.0, l.rail_top() - l.rail_high), (l.deep, l.rail_top()));
    for y in [l.breast, l.back] {
        v.part(sheet, Fill::Part, (y - l.bar_deep / 2.0, l.rail_top()), (y + l.bar_deep / 2.0, l.warp));
    }
    v.disc(sheet, Fill::Weft, l.cloth_beam, l.roll / 4.0 + l.beam / 4.0);
    v.disc(sheet, Fill::Warp, l.warp_beam, l.roll / 2.0);
    for beam in [l.cloth_beam, l.warp_beam] {
        v.disc(sheet, Fill::OtherPart, beam, l.beam / 2.0);
        v.circle(sheet, Line::Ghost, beam, loom.wheel.diameter / 2.0);
        v.cross(sheet, beam, l.beam / 2.0);
    }
    warp_side(sheet, v, loom);
    heddles_side(sheet, v, loom);
    side_measures(sheet, v, loom);
    side_marks(sheet, v, loom, floor);
}

fn warp_side(sheet: &mut Sheet, v: &View, loom: &Loom) {
    let l = &loom.layout;
    let (r, cloth) = (l.bar_deep / 2.0, l.roll / 4.0 + l.beam / 4.0);
    let down = |bar: f64, sign: f64, beam: (f64, f64), roll: f64| {
        [(bar + sign * r, l.warp - r), (beam.0 + sign * roll, beam.1)]
    };
    v.trace(sheet, Line::Curve, &[(l.breast, l.warp), (l.back, l.warp)]);
    v.trace(
        sheet,
        Line::Curve,
        &[(l.breast, l.warp), (l.breast - r * 0.75, l.warp - r * 0.3), (l.breast - r, l.warp - r)],
    );
    v.trace(sheet, Line::Curve, &[(l.back, l.warp), (l.back + r * 0.75, l.warp - r * 0.3), (l.back + r, l.warp - r)]);
    // From the bars down to the rolls: the cloth under its roll, the warp over its.
    v.trace(
        sheet,
        Line::Curve,
        &[
            (l.breast - r, l.warp - r),
            (l.breast - r, l.rail_top()),
            (l.cloth_beam.0 - cloth * 0.6, l.cloth_beam.1 - cloth * 0.8),
        ],
    );
    v.trace(sheet, Line::Curve, &down(l.back, 1.0, l.warp_beam, l.roll / 2.0));
}

fn heddles_side(sheet: &mut Sheet, v: &View, loom: &Loom) {
    let (l, h) = (&loom.layout, &loom.wish.heddle);
    let high = heddle_high(h) / 2.0 + 22.0;
    for i in 0..h.wish.frames() {
        let y = l.heddles[0] + HEDDLE_SPACING * f64::from(i);
        v.part(sheet, Fill::Paper, (y - 1.5, l.warp - high), (y + 1.5, l.warp + high));
        for (low, top) in [(high - 44.0, high), (-high, -high + 44.0)] {
            v.part(sheet, Fill::Part, (y - 9.0, l.warp + low), (y + 9.0, l.warp + top));
        }
        let lift = loom.wish.lift.to_si() * 1e3;
        v.edge(sheet, Line::Ghost, (y - 9.0, l.warp - high + lift), (y + 9.0, l.warp + high + lift));
    }
}

fn side_measures(sheet: &mut Sheet, v: &View, loom: &Loom) {
    let l = &loom.layout;
    let over = v.at(0.0, l.warp + heddle_high(&loom.wish.heddle) / 2.0 + 48.0).y - 1.0;
    let stops = [l.breast, l.fell, l.heddles[0], l.back];
    let points = stops.map(|y| kurbo::Point::new(v.at(y, 0.0).x, over + 6.0));
    let gaps: Vec<String> = stops.windows(2).map(|p| v.len(p[1] - p[0])).collect();
    dim::chain(sheet, &points, over, &gaps);
    // The beams are measured above the foot rail; a loom without one has that room below.
    let ground = v.at(0.0, 0.0).y;
    let (low, whole) = match loom.wish.stands {
        Stands::Floor => (v.at(0.0, l.foot + 47.0).y - 9.0, ground + 6.5),
        Stands::Table => (ground + 6.5, ground + 19.0),
    };
    dim::horizontal(sheet, v.at(0.0, 0.0), v.at(l.deep, 0.0), whole, &v.len(l.deep));
    let x = v.at(l.deep, 0.0).x;
    dim::vertical(
        sheet,
        v.at(l.deep, l.rail_top()),
        v.at(l.deep, l.rail_top() - l.rail_high),
        x + 7.0,
        &v.len(l.rail_high),
    );
    dim::vertical(
        sheet,
        v.at(l.deep, l.warp),
        v.at(l.warp_beam.0, l.warp_beam.1),
        x + 13.0,
        &v.len(l.warp - l.warp_beam.1),
    );
    dim::vertical(sheet, v.at(l.deep, l.rail_top()), v.at(l.deep, 0.0), x + 19.0, &v.len(l.rail_top()));
    dim::horizontal(sheet, v.at(0.0, l.cloth_beam.1 - 20.0), v.at(l.cloth_beam.0, l.cloth_beam.1 - 20.0), low, "");
    // Beyond its arrow: its middle lies on the leg's edge.
    let beyond = v.at(l.cloth_beam.0, 0.0).x + 1.4;
    sheet.words(Type::Figure, Anchor::Start, (beyond, low + 1.0), v.len(l.cloth_beam.0));
    dim::horizontal(
        sheet,
        v.at(0.0, l.warp_beam.1 - 20.0),
        v.at(l.warp_beam.0, l.warp_beam.1 - 20.0),
        low + 6.0,
        &v.len(l.warp_beam.0),
    );
}

fn side_marks(sheet: &mut Sheet, v: &View, loom: &Loom, floor: bool) {
    let l = &loom.layout;
    let mut left: Vec<(&str, (f64, f64))> = vec![
        ("B3", (l.breast - 6.0, l.warp - 8.0)),
        ("B1", (l.cloth_beam.0 - 6.0, l.cloth_beam.1 + 6.0)),
        ("A1", (20.0, l.rail_top() - l.rail_high + 12.0)),
    ];
    if floor {
        left.push(("A2", (l.legs[0], 260.0)));
        left.push(("A3", (l.legs[0] + 60.0, l.foot)));
    }
    column(sheet, v, v.at(0.0, 0.0).x - 9.0, l.warp + 70.0, &left);
    let inside = [
        (
            "B2",
            (l.warp_beam.0 - 8.0, l.warp_beam.1),
            (l.warp_beam.0 - 105.0, l.warp_beam.1 - if floor { 118.0 } else { 0.0 }),
        ),
        ("D2", (l.heddles[1], l.warp - 30.0), (l.heddles[1] + 75.0, l.warp - 62.0)),
    ];
    for (mark, target, at) in inside {
        dim::mark(sheet, v.at(at.0, at.1), v.at(target.0, target.1), mark);
    }
    dim::mark(sheet, v.at(l.back - 60.0, l.warp + 60.0), v.at(l.back - 8.0, l.warp - 6.0), "B4");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::machine::loom::{LoomWish, design, tests::tern_bay};

    /// Every loom that can be designed is drawn inside its paper.
    #[test]
    fn every_kind_stays_on_its_paper() {
        for stands in [Stands::Floor, Stands::Table] {
            for stiffening in [Stiffening::Bare, Stiffening::Shelf, Stiffening::Brace] {
                let loom = design(&LoomWish { stands, stiffening, ..tern_bay() }).unwrap();
                for sheet in sheets(&loom) {
                    let e = extent::of(&sheet.items).unwrap();
                    let inside = e.x0 > 3.0 && e.y0 > 4.0 && e.x1 < sheet.width - 3.0 && e.y1 < sheet.height - 4.0;
                    assert!(inside, "{} {stands:?} {stiffening:?} {e:?}", sheet.name);
                }
            }
        }
    }

    #[test]
    fn the_loom_taken_apart_shows_every_part() {
        let loom = design(&tern_bay()).unwrap();
        let mut words = Vec::new();
        extent::walk(&apart::sheet(&loom).items, &mut |seen| {
            if let extent::Seen::Words { text, .. } = seen {
                words.push(text.to_string());
            }
        });
        for part in loom.parts.iter().filter(|p| p.mark != "H1") {
            assert!(words.contains(&part.mark), "{} is not shown", part.mark);
        }
    }
}
