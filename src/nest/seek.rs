//! Looking for a better place for one copy: a few throws over the whole cloth, a few near where it lies, then the best of
//! them are moved downhill by ever smaller steps.

use super::chance::Chance;
use super::table::{Spot, Table};

/// Throws over the whole cloth, and near the present place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throws {
    pub wide: usize,
    pub near: usize,
    pub refined: usize,
}

/// A place with its cost.
#[derive(Clone, Copy, Debug)]
pub(super) struct Priced {
    pub spot: Spot,
    pub cost: f32,
}

/// First step downhill, and the last, as shares of the piece's lesser extent; the fine pass goes on from there.
const FIRST: f32 = 0.25;
const COARSE: f32 = 0.02;
const FINE: f32 = 0.001;
/// A step that helped grows, one that did not shrinks.
const GROW: f32 = 1.1;
const SHRINK: f32 = 0.5;

/// The best place found for copy `i`, at most as costly as where it lies.
pub(super) fn better_place(table: &mut Table, i: usize, throws: Throws, chance: &mut Chance) -> Priced {
    let Some(here) = table.spot(i) else { unreachable!("only laid copies are moved") };
    let here = Priced { spot: here, cost: table.weighted(i) };
    let mut best: Vec<Priced> = Vec::with_capacity(throws.refined + 1);
    best.push(here);
    for k in 0..throws.near + throws.wide {
        let near = (k < throws.near).then_some(here.spot);
        let spot = throw(table, i, near, chance);
        let bound = if best.len() < throws.refined { f32::INFINITY } else { best[best.len() - 1].cost };
        let cost = table.cost(i, spot, bound);
        if cost == 0.0 {
            return Priced { spot, cost };
        }
        if cost < bound {
            keep(&mut best, Priced { spot, cost }, throws.refined, table);
        }
    }
    for priced in &mut best {
        *priced = downhill(table, i, *priced, (FIRST, COARSE), chance);
        if priced.cost == 0.0 {
            return *priced;
        }
    }
    let least = best.into_iter().min_by(|a, b| a.cost.total_cmp(&b.cost)).unwrap_or(here);
    let fine = downhill(table, i, least, (COARSE, FINE), chance);
    if fine.cost <= here.cost { fine } else { here }
}

/// A random place: anywhere, or near `around`.
fn throw(table: &Table, i: usize, around: Option<Spot>, chance: &mut Chance) -> Spot {
    let forms = table.lot.copies[i].forms.clone();
    let form = forms.start + chance.below(forms.len());
    let f = &table.lot.forms[form];
    let (across, along) = (f.across, (0.0, (table.length - f.size.0).max(0.0)));
    match around {
        None => Spot { form, x: chance.between(along.0, along.1), y: chance.between(across.0, across.1) },
        Some(s) => {
            let old = table.form(s);
            let (cx, cy) = (s.x + old.size.0 / 2.0 - f.size.0 / 2.0, s.y + old.size.1 / 2.0 - f.size.1 / 2.0);
            let (rx, ry) = (f.size.0 * 0.5, f.size.1 * 0.5);
            let within = |lo: f32, hi: f32, (from, to): (f32, f32)| (lo.clamp(from, to), hi.clamp(from, to));
            let (x0, x1) = within(cx - rx, cx + rx, along);
            let (y0, y1) = within(cy - ry, cy + ry, across);
            Spot { form, x: chance.between(x0, x1), y: chance.between(y0, y1) }
        }
    }
}

/// Puts a place among the best, unless it is almost one already there.
fn keep(best: &mut Vec<Priced>, new: Priced, most: usize, table: &Table) {
    let size = table.form(new.spot).size;
    let near = size.0.min(size.1) * 0.05;
    let twin = best.iter().position(|p| {
        p.spot.form == new.spot.form && (p.spot.x - new.spot.x).abs() < near && (p.spot.y - new.spot.y).abs() < near
    });
    match twin {
        Some(k) if best[k].cost <= new.cost => return,
        Some(k) => drop(best.remove(k)),
        None => {}
    }
    let at = best.partition_point(|p| p.cost <= new.cost);
    best.insert(at, new);
    best.truncate(most);
}

/// Moves a place along the axes and diagonals while that helps, from the first step to the last (shares of the form's
/// lesser extent).
fn downhill(table: &mut Table, i: usize, start: Priced, (first, last): (f32, f32), chance: &mut Chance) -> Priced {
    let size = table.form(start.spot).size;
    let unit = size.0.min(size.1);
    let (mut sx, mut sy, last) = (unit * first, unit * first, unit * last);
    let mut best = start;
    while sx > last || sy > last {
        let (dx, dy) = match chance.below(4) {
            0 => (sx, 0.0),
            1 => (0.0, sy),
            2 => (sx, sy),
            _ => (sx, -sy),
        };
        let mut helped = false;
        let from = best.spot;
        for way in [1.0, -1.0] {
            let spot = table.kept_on_cloth(Spot { x: from.x + way * dx, y: from.y + way * dy, ..from });
            if spot == from {
                continue;
            }
            let cost = table.cost(i, spot, best.cost);
            if cost < best.cost {
                best = Priced { spot, cost };
                helped = true;
                if cost == 0.0 {
                    return best;
                }
            }
        }
        let factor = if helped { GROW } else { SHRINK };
        sx = if dx != 0.0 { sx * factor } else { sx };
        sy = if dy != 0.0 { sy * factor } else { sy };
    }
    best
}
