//! Looking for a better place for one copy: a few throws over the whole cloth and a few near where it lies, then the best of
//! all is moved downhill by ever smaller steps.

use super::chance::Chance;
use super::job::Steps;
use super::table::{Spot, Table};

/// Throws over the whole cloth, and near the present place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throws {
    pub wide: usize,
    pub near: usize,
}

/// A place with its cost.
#[derive(Clone, Copy, Debug)]
pub(super) struct Priced {
    pub spot: Spot,
    pub cost: f32,
}

/// First step downhill, and the last, as shares of the form's lesser extent.
const FIRST: f32 = 0.25;
const LAST: f32 = 0.002;
/// A step that helped grows, one that did not shrinks.
const GROW: f32 = 1.1;
const SHRINK: f32 = 0.5;

/// The best place found for copy `i`, at most as costly as where it lies.
pub(super) fn better_place(table: &mut Table, i: usize, throws: Throws, chance: &mut Chance) -> Priced {
    let Some(here) = table.spot(i) else { unreachable!("only laid copies are moved") };
    let mut best = Priced { spot: here, cost: table.weighted(i) };
    for k in 0..throws.near + throws.wide {
        let spot = throw(table, i, (k < throws.near).then_some(here), chance);
        let cost = table.cost(i, spot, best.cost);
        if cost < best.cost {
            best = Priced { spot, cost };
        }
        if cost == 0.0 {
            return best;
        }
    }
    downhill(table, i, best, chance)
}

/// A random place: anywhere, or near `around`.
fn throw(table: &Table, i: usize, around: Option<Spot>, chance: &mut Chance) -> Spot {
    let forms = table.lot.copies[i].forms.clone();
    let form = forms.start + chance.below(forms.len());
    let f = &table.lot.forms[form];
    let (across, along) = (f.across, (0.0, (table.length - f.size.0).max(0.0)));
    let Some(s) = around else {
        let spot = Spot { form, x: chance.between(along.0, along.1), y: chance.between(across.0, across.1) };
        return table.on_stripes(spot);
    };
    // Middle on middle, give or take half its size.
    let old = table.form(s).size;
    let near = |at: f32, old: f32, new: f32, (from, to): (f32, f32), chance: &mut Chance| {
        let least = at + old / 2.0 - new;
        chance.between(least.clamp(from, to), (least + new).clamp(from, to))
    };
    let x = near(s.x, old.0, f.size.0, along, chance);
    let y = near(s.y, old.1, f.size.1, across, chance);
    table.on_stripes(Spot { form, x, y })
}

/// Moves a place along the axes and diagonals while that helps, by steps that shrink to nothing.
fn downhill(table: &mut Table, i: usize, start: Priced, chance: &mut Chance) -> Priced {
    let (size, steps) = (table.form(start.spot).size, table.form(start.spot).steps);
    let unit = size.0.min(size.1);
    // on stripes a step is a repeat at least
    let first = |steps: Option<Steps>| steps.map_or(unit * FIRST, |steps| (unit * FIRST).max(steps.every as f32));
    let (mut sx, mut sy, last) = (first(steps.0), first(steps.1), unit * LAST);
    let mut best = start;
    while sx > last || sy > last {
        let (dx, dy) = match chance.below(4) {
            0 => (sx, 0.0),
            1 => (0.0, sy),
            2 => (sx, sy),
            _ => (sx, -sy),
        };
        if (dx.abs() <= last && dy == 0.0) || (dx == 0.0 && dy.abs() <= last) {
            continue;
        }
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
