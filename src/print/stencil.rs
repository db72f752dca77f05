//! A stencil from a plate: the ink is cut out of a sheet, so what stands inside a cut must be held by bridges, or it falls out. The sheet is
//! first made sound (a web too thin to stand is cut away), then every island is joined to the rest by the shortest bridges there are.

use super::Fault;
use super::distance::{Distances, NONE, parts};
use super::plate::Plate;
use kurbo::{Point, Vec2};
use std::collections::BTreeMap;

/// A bridge, from sheet to sheet across a cut, in squares of the plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bridge {
    pub from: Point,
    pub to: Point,
}

impl Bridge {
    /// Length across the cut.
    pub fn length(&self) -> f64 {
        self.from.distance(self.to)
    }
}

/// A stencil that holds together.
#[derive(Clone, Debug)]
pub struct Stencil {
    /// What is cut out.
    pub cut: Plate,
    pub bridges: Vec<Bridge>,
    /// Islands that had to be held.
    pub islands: usize,
    /// Webs of the sheet too thin to stand, as squares that were cut away.
    pub webs: usize,
}

/// Most islands that are bridged: more of them is a picture for a screen.
pub const MOST_ISLANDS: usize = 400;
/// Islands up to this size, in bridges' widths, hang on one bridge; larger ones get a second on the other side.
const SMALL: f64 = 6.0;
/// A second bridge stands at least so far round the island, degrees.
const OTHER_SIDE: f64 = 100.0;

/// Makes a stencil whose bridges are `bridge` squares wide. The plate must have a free frame of at least that width.
///
/// # Errors
/// More than [`MOST_ISLANDS`] islands.
pub fn stencil(plate: &Plate, bridge: f64) -> Result<Stencil, Fault> {
    let (width, height) = (plate.width, plate.height);
    let wished = plate.mask();
    let sheet = sound(&wished, width, height, bridge);
    let webs = (0..sheet.len()).filter(|i| !sheet[*i] && !wished[*i]).count();
    let (label, number) = parts(&sheet, width, height, false);
    if number > MOST_ISLANDS + 1 {
        return Err(Fault(format!(
            "the picture leaves {} loose islands in a stencil; at most {MOST_ISLANDS} are held by bridges: print it with a screen, or \
             draw it simpler",
            number - 1
        )));
    }
    let ways = ways(&sheet, &label, width, height);
    let mut bridges = spanning(&ways, number);
    let frame = label.first().copied().unwrap_or(0);
    bridges.extend(seconds(&ways, &bridges, &middles(&label, number, width), frame, (width, bridge)));
    let mut cut: Vec<bool> = sheet.iter().map(|is| !is).collect();
    let bridges: Vec<Bridge> = bridges.into_iter().map(|way| way.bridge(width)).collect();
    for one in &bridges {
        lay(&mut cut, width, height, one, bridge);
    }
    let cut = Plate::of(width, height, |x, y| cut[y * width + x]);
    Ok(Stencil { cut, bridges, islands: number.saturating_sub(1), webs })
}

/// The sheet without what is too thin to stand.
fn sound(cut: &[bool], width: usize, height: usize, least: f64) -> Vec<bool> {
    let away = Distances::to(cut, width, height);
    let radius = least / 2.0;
    let core: Vec<bool> = (0..cut.len()).map(|i| f64::from(away.squared[i]).sqrt() >= radius).collect();
    let reach = Distances::to(&core, width, height);
    (0..cut.len()).map(|i| !cut[i] && f64::from(reach.squared[i]).sqrt() <= radius).collect()
}

/// A way across the cut between two parts of the sheet.
#[derive(Clone, Copy, Debug)]
struct Way {
    parts: [u32; 2],
    ends: [u32; 2],
    length: f64,
}

impl Way {
    fn bridge(&self, width: usize) -> Bridge {
        let point = |at: u32| Point::new((at as usize % width) as f64 + 0.5, (at as usize / width) as f64 + 0.5);
        Bridge { from: point(self.ends[0]), to: point(self.ends[1]) }
    }
    fn end_on(&self, part: u32) -> Option<u32> {
        (0..2).find(|i| self.parts[*i] == part).map(|i| self.ends[i])
    }
}

/// Short ways between parts that face each other: where the nearest parts of two neighbouring squares of the cut differ. Of each pair of
/// parts the shortest in each small field is kept, so that there are ways on every side.
fn ways(sheet: &[bool], label: &[u32], width: usize, height: usize) -> Vec<Way> {
    const FIELD: usize = 12;
    let near = Distances::to(sheet, width, height);
    let mut best: BTreeMap<([u32; 2], usize, usize), Way> = BTreeMap::new();
    let mut meet = |a: usize, b: usize| {
        let (na, nb) = (near.nearest[a], near.nearest[b]);
        if na == NONE || nb == NONE {
            return;
        }
        let (pa, pb) = (label[na as usize], label[nb as usize]);
        if pa == pb {
            return;
        }
        let place = |at: u32| Point::new((at as usize % width) as f64, (at as usize / width) as f64);
        let length = place(na).distance(place(nb));
        let (parts, ends) = if pa < pb { ([pa, pb], [na, nb]) } else { ([pb, pa], [nb, na]) };
        let way = Way { parts, ends, length };
        let field = (a % width / FIELD, a / width / FIELD);
        let held = best.entry((parts, field.0, field.1)).or_insert(way);
        if way.length < held.length {
            *held = way;
        }
    };
    for at in 0..sheet.len() {
        if at % width + 1 < width {
            meet(at, at + 1);
        }
        if at / width + 1 < height {
            meet(at, at + width);
        }
    }
    let mut all: Vec<Way> = best.into_values().collect();
    all.sort_by(|a, b| a.length.total_cmp(&b.length).then(a.ends.cmp(&b.ends)));
    all
}

/// The shortest ways that together join everything (Kruskal 1956).
fn spanning(ways: &[Way], number: usize) -> Vec<Way> {
    let mut of: Vec<usize> = (0..=number).collect();
    fn root(of: &mut [usize], mut at: usize) -> usize {
        while of[at] != at {
            of[at] = of[of[at]];
            at = of[at];
        }
        at
    }
    let mut out = Vec::new();
    for way in ways {
        let (a, b) = (root(&mut of, way.parts[0] as usize), root(&mut of, way.parts[1] as usize));
        if a != b {
            of[a] = b;
            out.push(*way);
        }
    }
    out
}

/// Middle and number of squares of each part.
fn middles(label: &[u32], number: usize, width: usize) -> Vec<(Point, f64)> {
    let mut sums = vec![(Point::ZERO, 0.0); number + 1];
    for (at, part) in label.iter().enumerate().filter(|(_, part)| **part > 0) {
        let sum = &mut sums[*part as usize];
        sum.0 += Vec2::new((at % width) as f64, (at / width) as f64);
        sum.1 += 1.0;
    }
    sums.into_iter().map(|(sum, n)| ((sum.to_vec2() / f64::max(n, 1.0)).to_point(), n)).collect()
}

/// What each part hangs on, and where, walking out from the frame; none for the frame itself.
fn holders(tree: &[Way], frame: u32, number: usize) -> Vec<Option<(u32, u32)>> {
    let mut by: Vec<Option<(u32, u32)>> = vec![None; number + 1];
    let mut open = vec![frame];
    while let Some(part) = open.pop() {
        for way in tree.iter().filter(|way| way.end_on(part).is_some()) {
            let other = way.parts[usize::from(way.parts[0] == part)];
            let from_here = by[part as usize].is_some_and(|(holder, _)| holder == other);
            if other != frame && !from_here && by[other as usize].is_none() {
                by[other as usize] = way.end_on(other).map(|end| (part, end));
                open.push(other);
            }
        }
    }
    by
}

/// A second bridge for each larger island, on its other side.
fn seconds(ways: &[Way], tree: &[Way], parts: &[(Point, f64)], frame: u32, (width, bridge): (usize, f64)) -> Vec<Way> {
    let turn = libm::cos(OTHER_SIDE.to_radians());
    let holders = holders(tree, frame, parts.len() - 1);
    let mut out: Vec<Way> = Vec::new();
    for (part, (middle, area)) in parts.iter().enumerate().skip(1) {
        let Some((_, held)) = holders[part] else { continue };
        if *area < (SMALL * bridge) * (SMALL * bridge) {
            continue;
        }
        let side = |at: u32| Point::new((at as usize % width) as f64, (at as usize / width) as f64) - *middle;
        let part = part as u32;
        let other = |way: &&Way| {
            let Some(end) = way.end_on(part) else { return false };
            let across = way.parts[usize::from(way.parts[0] == part)];
            // an island that hangs on this one cannot hold it
            let (u, v) = (side(end), side(held));
            holders[across as usize].is_none_or(|(holder, _)| holder != part) && u.dot(v) < turn * u.hypot() * v.hypot()
        };
        out.extend(ways.iter().find(other).copied());
    }
    out
}

/// Lays a bridge: a bar of the sheet from end to end and a little into both.
fn lay(cut: &mut [bool], width: usize, height: usize, bridge: &Bridge, wide: f64) {
    let along = bridge.to - bridge.from;
    let long = along.hypot().max(1e-9);
    let dir = along / long;
    let over = wide / 2.0 + 1.0;
    let (a, b) = (bridge.from - dir * over, bridge.to + dir * over);
    let reach = wide / 2.0 + 1.0;
    let low = |p: f64, q: f64| (p.min(q) - reach).floor().max(0.0) as usize;
    let high = |p: f64, q: f64, most: usize| ((p.max(q) + reach).ceil().max(0.0) as usize).min(most);
    for y in low(a.y, b.y)..high(a.y, b.y, height) {
        for x in low(a.x, b.x)..high(a.x, b.x, width) {
            let from = Point::new(x as f64 + 0.5, y as f64 + 0.5) - bridge.from;
            let (t, off) = (from.dot(dir), from.cross(dir).abs());
            if off <= wide / 2.0 && t >= -over && t <= long + over {
                cut[y * width + x] = false;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::outline::outlines;

    fn rings() -> Plate {
        Plate::of(240, 240, |x, y| {
            let far = |cx: f64, cy: f64| libm::hypot(x as f64 + 0.5 - cx, y as f64 + 0.5 - cy);
            let big = far(120.0, 120.0);
            (30.0..50.0).contains(&big) || (80.0..100.0).contains(&big) || (6.0..10.0).contains(&far(120.0, 120.0))
        })
    }

    /// Topology: the sheet that is left is one part, however the picture was nested.
    #[test]
    fn no_island_is_loose() {
        let plate = rings();
        let made = stencil(&plate, 6.0).expect("held");
        assert_eq!(made.islands, 3);
        assert!(made.bridges.len() >= 5, "larger islands hang on two: {:?}", made.bridges);
        let sheet: Vec<bool> = made.cut.mask().iter().map(|cut| !cut).collect();
        assert_eq!(parts(&sheet, plate.width, plate.height, false).1, 1);
        // the same told by the outlines: no cut has a hole, so no line runs the other way round
        assert!(outlines(&made.cut).iter().all(|line| crate::geom::area(line) > 0.0));
        assert!(made.bridges.iter().all(|b| b.length() < 32.0), "{:?}", made.bridges);
    }

    #[test]
    fn noise_is_refused_and_what_is_whole_is_left_alone() {
        let mut seed = 1u32;
        let mut noise = Plate::empty(300, 300);
        for cover in &mut noise.cover {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            *cover = if seed >> 30 == 0 { 0 } else { 255 };
        }
        assert!(stencil(&noise, 1.0).unwrap_err().0.contains("loose islands"));
        let square = Plate::of(100, 100, |x, y| (30..70).contains(&x) && (30..70).contains(&y));
        let made = stencil(&square, 6.0).expect("held");
        assert_eq!((made.islands, made.bridges.len(), made.webs), (0, 0, 0));
        assert_eq!(made.cut, square);
    }

    /// A web of the sheet too thin to stand goes, and what it held is bridged.
    #[test]
    fn thin_webs_are_no_bridges() {
        let plate = Plate::of(200, 200, |x, y| {
            let ring =
                (40..160).contains(&x) && (40..160).contains(&y) && !((80..120).contains(&x) && (80..120).contains(&y));
            ring && !((99..101).contains(&x) && y < 100)
        });
        let made = stencil(&plate, 8.0).expect("held");
        assert!(made.webs > 50 && made.islands == 1 && !made.bridges.is_empty());
    }
}
