//! The plain way: large pieces first, each as far towards the start of the cloth as it will go, and there as near one
//! selvedge. Every search starts from it and never gives back anything longer.

use super::table::{Spot, Table};

/// Columns of places tried in the length of a piece, and rows across the cloth, beside the edges of what lies there.
const COLUMNS: f32 = 6.0;
const ROWS: f32 = 24.0;
/// Halvings when a piece is pushed up against another.
const PUSHES: u32 = 14;

/// Places tried before the rest of the copies are simply laid one behind the other: a bound for jobs of hundreds of
/// different pieces.
const PLACES: u64 = 2_000_000;

/// Lays every copy on an empty table whose cloth is long enough.
pub(super) fn bottom_left(table: &mut Table) {
    let copies = &table.lot.copies;
    let mut order: Vec<usize> = (0..copies.len()).collect();
    order.sort_by(|&a, &b| copies[b].hull.total_cmp(&copies[a].hull).then(a.cmp(&b)));
    // A later copy of the same form finds nothing before where the last one went in.
    let mut from = vec![0.0f32; table.lot.forms.len()];
    for i in order {
        let forms = copies[i].forms.clone();
        let places: Vec<Spot> = forms.map(|form| first_place(table, i, form, &mut from[form])).collect();
        let end = |s: &Spot| s.x + table.lot.forms[s.form].size.0;
        let best = places.into_iter().min_by(|a, b| end(a).total_cmp(&end(b)).then(a.y.total_cmp(&b.y)));
        if let Some(spot) = best {
            table.put(i, spot);
        }
    }
}

/// The first place in `form`, column by column, pushed to the start and to the selvedge until it stays.
fn first_place(table: &mut Table, i: usize, form: usize, from: &mut f32) -> Spot {
    let (size, across) = (table.lot.forms[form].size, table.lot.forms[form].across);
    let reach = table.reach();
    let mut columns: Vec<f32> = table.boxes_seen().map(|b| b.2).collect();
    let step = size.0 / COLUMNS;
    columns.extend((0..=(reach / step) as usize).map(|k| k as f32 * step));
    columns.retain(|x| *x >= *from && *x < reach);
    columns.push(reach);
    if let Some(steps) = table.steps_along(form) {
        columns.iter_mut().for_each(|x| *x = steps.from(*x));
    }
    columns.sort_by(f32::total_cmp);
    columns.dedup();
    if table.evaluations > PLACES {
        columns.drain(..columns.len() - 1);
    }
    for x in columns {
        for y in rows(table, form, x) {
            let spot = Spot { form, x, y };
            if free(table, i, spot) {
                *from = x - step;
                return pushed(table, i, spot);
            }
        }
    }
    let last = Spot { form, x: reach, y: across.0 };
    Spot { x: table.steps_along(form).map_or(reach, |steps| steps.from(reach)), ..table.on_stripes(last) }
}

/// Heights to try in a column: a few at even steps, and just beside what lies in it.
fn rows(table: &Table, form: usize, x: f32) -> Vec<f32> {
    let (size, (from, to)) = (table.lot.forms[form].size, table.lot.forms[form].across);
    let step = (to - from) / ROWS;
    let mut rows: Vec<f32> = (0..=ROWS as usize).map(|k| from + k as f32 * step).collect();
    rows.push(to);
    for (x0, y0, x1, y1) in table.boxes_seen() {
        if x0 < x + size.0 && x1 > x {
            rows.extend([y1, y0 - size.1]);
        }
    }
    rows.retain(|y| (from..=to).contains(y));
    if let Some(steps) = table.lot.forms[form].steps.1 {
        rows = rows.into_iter().flat_map(|y| [steps.until(y), steps.from(y)]).collect();
    }
    rows.sort_by(f32::total_cmp);
    rows.dedup();
    rows
}

fn free(table: &mut Table, i: usize, spot: Spot) -> bool {
    table.cost(i, spot, f32::MIN_POSITIVE) == 0.0
}

/// Pushed back along the cloth and down across it, in turn, while either helps.
fn pushed(table: &mut Table, i: usize, mut spot: Spot) -> Spot {
    let form = &table.lot.forms[spot.form];
    for _ in 0..8 {
        let before = spot;
        for along in [true, false] {
            let room = if along { spot.x } else { spot.y - form.across.0 };
            let mut step = room;
            for _ in 0..PUSHES {
                let next = if along { Spot { x: spot.x - step, ..spot } } else { Spot { y: spot.y - step, ..spot } };
                let (next, moves) = match form.steps {
                    (None, None) => (next, step > 0.0),
                    _ => (table.on_stripes(next), table.on_stripes(next) != spot),
                };
                let inside = next.x >= 0.0 && next.y >= form.across.0;
                if inside && moves && free(table, i, next) {
                    spot = next;
                } else {
                    step /= 2.0;
                }
            }
        }
        if spot == before {
            break;
        }
    }
    spot
}
