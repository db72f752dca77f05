//! Exact distances on a grid, and what is nearest: the two passes of Felzenszwalb and Huttenlocher (2012), down the columns and then by
//! lower envelopes along the rows. Distances are in squares, from middle to middle.

use rayon::prelude::*;

/// For each square the distance to the nearest of some marked squares.
pub struct Distances {
    /// Squares of distances; infinite where nothing is marked.
    pub squared: Vec<f32>,
    /// Index of the nearest marked square; [`NONE`] where there is none.
    pub nearest: Vec<u32>,
}

/// No square.
pub const NONE: u32 = u32::MAX;

impl Distances {
    /// To the squares where `marked` holds.
    pub fn to(marked: &[bool], width: usize, height: usize) -> Distances {
        let mut nearest = vec![NONE; width * height];
        let squared = rows(marked, width, height, nearest.par_chunks_mut(width).map(Some));
        Distances { squared, nearest }
    }
    /// The squares of the distances alone.
    pub fn squared(marked: &[bool], width: usize, height: usize) -> Vec<f32> {
        rows(marked, width, height, (0..height).into_par_iter().map(|_| None))
    }
    /// Distance of a square.
    pub fn of(&self, at: usize) -> f64 {
        f64::from(self.squared[at]).sqrt()
    }
}

/// Squares of the distances to the squares that are `marked`, as far as `reach` (at most 15), [`BEYOND`] farther: tens of times sooner than
/// all of them, since each row asks its near columns only, many squares at a time.
pub fn near<T: Copy>(squares: &[T], width: usize, reach: usize, marked: impl Fn(T) -> bool) -> Vec<u8> {
    let reach = reach.min(15);
    let far = columns_near(squares, width, reach, marked);
    let square = |far: u8| if usize::from(far) > reach { BEYOND } else { far * far };
    let mut out = vec![BEYOND; squares.len()];
    let padded = || vec![BEYOND; width.next_multiple_of(BLOCK) + 2 * reach];
    out.par_chunks_mut(width).zip(far.par_chunks(width)).with_min_len(ROWS).for_each_init(
        padded,
        |above, (out, far)| {
            above[reach..].iter_mut().zip(far).for_each(|(above, far)| *above = square(*far));
            for (at, out) in out.chunks_mut(BLOCK).enumerate() {
                let mut least = [BEYOND; BLOCK];
                for shift in 0..=2 * reach {
                    let aside = shift.abs_diff(reach);
                    let more = (aside * aside) as u8;
                    let Some(above) = above[at * BLOCK + shift..].first_chunk::<BLOCK>() else { break };
                    for (least, above) in least.iter_mut().zip(above) {
                        *least = (*least).min(above.saturating_add(more));
                    }
                }
                let limit = (reach * reach) as u8;
                out.iter_mut().zip(least).for_each(|(out, least)| *out = if least > limit { BEYOND } else { least });
            }
        },
    );
    out
}

/// Farther than was looked.
pub const BEYOND: u8 = u8::MAX;
/// Squares of a row handled together, and rows handled by one worker at a time.
const BLOCK: usize = 64;
const ROWS: usize = 32;

/// Distance to the nearest marked square in each square's column, one more than `reach` beyond that.
fn columns_near<T: Copy>(squares: &[T], width: usize, reach: usize, marked: impl Fn(T) -> bool) -> Vec<u8> {
    let (height, beyond) = (squares.len() / width.max(1), reach as u8 + 1);
    let mut far: Vec<u8> = squares.iter().map(|square| if marked(*square) { 0 } else { beyond }).collect();
    let next = |far: &mut [u8], before: &[u8]| {
        far.iter_mut().zip(before).for_each(|(far, before)| *far = (*far).min((before + 1).min(beyond)));
    };
    for y in 1..height {
        let (before, here) = far.split_at_mut(y * width);
        next(&mut here[..width], &before[(y - 1) * width..]);
    }
    for y in (1..height).rev() {
        let (here, below) = far.split_at_mut(y * width);
        next(&mut here[(y - 1) * width..], &below[..width]);
    }
    far
}

/// Squares of the distances, and for each row what is nearest where there is room for it.
fn rows<'a>(
    marked: &[bool],
    width: usize,
    height: usize,
    nearest: impl IndexedParallelIterator<Item = Option<&'a mut [u32]>>,
) -> Vec<f32> {
    let above = columns(marked, width, height);
    let mut squared = vec![f32::INFINITY; width * height];
    squared.par_chunks_mut(width).zip(nearest).enumerate().for_each_init(
        || Envelope::new(width),
        |work, (y, (squared, nearest))| work.row(y, &above[y * width..(y + 1) * width], squared, nearest),
    );
    squared
}

/// The row of the nearest marked square in each square's column.
fn columns(marked: &[bool], width: usize, height: usize) -> Vec<u32> {
    let mut row = vec![NONE; width * height];
    let mut last = vec![NONE; width];
    for y in 0..height {
        let line = y * width..(y + 1) * width;
        for ((last, row), marked) in last.iter_mut().zip(&mut row[line.clone()]).zip(&marked[line]) {
            *last = if *marked { y as u32 } else { *last };
            *row = *last;
        }
    }
    last.fill(NONE);
    for y in (0..height).rev() {
        for (below, row) in last.iter_mut().zip(&mut row[y * width..(y + 1) * width]) {
            let here = y as u32;
            if *row == here {
                *below = here;
            } else if *below != NONE && (*row == NONE || *below - here <= here - *row) {
                *row = *below;
            }
        }
    }
    row
}

/// The lower envelope of the parabolas along one row.
struct Envelope {
    place: Vec<usize>,
    start: Vec<f64>,
    /// Distances along the columns.
    far: Vec<f64>,
}

impl Envelope {
    fn new(width: usize) -> Self {
        let room = || Vec::with_capacity(width);
        Envelope { place: Vec::with_capacity(width), start: room(), far: room() }
    }

    /// Row `y`, from the nearest marked row in each column.
    fn row(&mut self, y: usize, rows: &[u32], squared: &mut [f32], mut nearest: Option<&mut [u32]>) {
        self.place.clear();
        self.start.clear();
        self.far.clear();
        self.far.extend(rows.iter().map(|row| if *row == NONE { f64::INFINITY } else { f64::from(*row) - y as f64 }));
        let height = |x: usize| self.far[x] * self.far[x] + (x * x) as f64;
        for (x, _) in self.far.iter().enumerate().filter(|(_, far)| far.is_finite()) {
            let mut from = f64::NEG_INFINITY;
            while let (Some(last), Some(begun)) = (self.place.last().copied(), self.start.last().copied()) {
                from = (height(x) - height(last)) / (2.0 * (x - last) as f64);
                if from > begun {
                    break;
                }
                self.place.pop();
                self.start.pop();
                from = f64::NEG_INFINITY;
            }
            self.place.push(x);
            self.start.push(from);
        }
        if self.place.is_empty() {
            return;
        }
        let mut at = 0;
        for x in 0..rows.len() {
            while at + 1 < self.place.len() && self.start[at + 1] <= x as f64 {
                at += 1;
            }
            let place = self.place[at];
            let across = x as f64 - place as f64;
            squared[x] = (across * across + self.far[place] * self.far[place]) as f32;
            if let Some(nearest) = &mut nearest {
                nearest[x] = rows[place] * rows.len() as u32 + place as u32;
            }
        }
    }
}

/// Parts that hang together, numbered from 1 in the order of their first square; 0 is what is not marked. `corners`: squares that touch
/// at a corner hang together too.
pub fn parts(marked: &[bool], width: usize, height: usize, corners: bool) -> (Vec<u32>, usize) {
    let mut label = vec![0u32; width * height];
    let mut found = 0;
    let mut open: Vec<usize> = Vec::new();
    for first in 0..label.len() {
        if !marked[first] || label[first] != 0 {
            continue;
        }
        found += 1;
        label[first] = found;
        open.push(first);
        while let Some(at) = open.pop() {
            let (x, y) = ((at % width) as i64, (at / width) as i64);
            for (dx, dy) in AROUND.iter().take(if corners { 8 } else { 4 }) {
                let (x, y) = (x + dx, y + dy);
                if x < 0 || y < 0 || x >= width as i64 || y >= height as i64 {
                    continue;
                }
                let next = y as usize * width + x as usize;
                if marked[next] && label[next] == 0 {
                    label[next] = found;
                    open.push(next);
                }
            }
        }
    }
    (label, found as usize)
}

const AROUND: [(i64, i64); 8] = [(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)];

#[cfg(test)]
mod tests {
    use super::*;

    /// The fast answer against the slow one, on grids thrown at random.
    #[test]
    fn distances_are_exact() {
        let mut seed = 7u32;
        let mut throw = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            seed >> 16
        };
        for (width, height, one_in) in [(31, 17, 9), (1, 40, 5), (40, 1, 5), (23, 29, 200)] {
            let marked: Vec<bool> = (0..width * height).map(|_| throw() % one_in == 0).collect();
            let found = Distances::to(&marked, width, height);
            let near = [1, 3, 15].map(|reach| (reach, near(&marked, width, reach, |marked| marked)));
            for at in 0..marked.len() {
                let apart = |other: usize| {
                    let dx = (other % width) as f32 - (at % width) as f32;
                    let dy = (other / width) as f32 - (at / width) as f32;
                    dx * dx + dy * dy
                };
                let best = (0..marked.len()).filter(|i| marked[*i]).map(apart).fold(f32::INFINITY, f32::min);
                assert_eq!(found.squared[at], best, "{width} x {height} at {at}");
                for (reach, near) in &near {
                    let best = if best > (reach * reach) as f32 { BEYOND } else { best as u8 };
                    assert_eq!(near[at], best, "{width} x {height} at {at} within {reach}");
                }
                if best.is_finite() {
                    assert_eq!(apart(found.nearest[at] as usize), best);
                    assert!(marked[found.nearest[at] as usize]);
                }
            }
        }
    }

    #[test]
    fn parts_hang_together_by_sides_or_by_corners() {
        let marked: Vec<bool> = "x.x.x..x.xx.".chars().map(|c| c == 'x').collect();
        assert_eq!(parts(&marked, 4, 3, false).1, 4);
        assert_eq!(parts(&marked, 4, 3, true).1, 1);
        assert_eq!(parts(&[], 0, 0, true).1, 0);
    }
}
