//! What in a picture is too fine: lines and gaps narrower than a limit, by what a disc of that width cannot reach; and the finest line, gap
//! and dot there are, by the widths along the middle lines. A point that tapers off is shortened, not lost, and told apart from a line.

use super::distance::{self, BEYOND, Distances, parts};
use super::plate::{INK, Plate};
use rayon::prelude::*;

/// A place that a disc of the limit's width does not reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Left, top, right, bottom in squares.
    pub bounds: [usize; 4],
    /// Squares in it.
    pub area: usize,
    /// Its mean width in squares.
    pub width: f64,
    /// The end of something that tapers off: it is shortened.
    pub is_tip: bool,
}

/// What is too fine in a mask, largest first, and which squares.
pub struct Fine {
    pub spots: Vec<Spot>,
    pub squares: Vec<bool>,
}

/// Corners stay out of reach of any disc: how far beyond a disc's radius a place must lie to count, in radii.
const CORNER: f64 = 0.6;
/// A part that comes out of something wide enough and ends at less than this share of its mean width is a tip.
const TAPERS: f64 = 0.5;

/// Parts of the mask narrower than `limit` squares.
pub fn too_fine(mask: &[bool], width: usize, height: usize, limit: f64) -> Fine {
    let inside = depth(mask, width, height);
    let radius = limit / 2.0;
    let core: Vec<bool> = inside.iter().map(|d| wide(f64::from(*d)) >= limit - 1e-6).collect();
    let reach = Distances::to(&core, width, height);
    let left: Vec<bool> =
        (0..mask.len()).map(|i| mask[i] && f64::from(reach.squared[i]).sqrt() > radius + 0.75).collect();
    let (label, number) = parts(&left, width, height, true);
    let mut sums = vec![Sum::new(width, height); number];
    for at in 0..mask.len() {
        if label[at] > 0 {
            let (x, y) = (at % width, at / width);
            let near = f64::from(reach.squared[at]).sqrt();
            sums[label[at] as usize - 1].add(
                (x, y),
                near,
                is_ridge(|at| inside[at], (width, height), at),
                f64::from(inside[at]),
            );
        }
    }
    let counts = |sum: &Sum| sum.far > radius * (1.0 + CORNER) + 1.0 && sum.area >= 4;
    let keep: Vec<bool> = sums.iter().map(counts).collect();
    let squares = label.iter().map(|l| *l > 0 && keep[*l as usize - 1]).collect();
    let mut spots: Vec<Spot> = sums.iter().filter(|s| counts(s)).map(|s| s.spot(limit)).collect();
    spots.sort_by(|a, b| b.area.cmp(&a.area).then(a.bounds.cmp(&b.bounds)));
    Fine { spots, squares }
}

/// What is gathered of a part.
#[derive(Clone)]
struct Sum {
    bounds: [usize; 4],
    area: usize,
    far: f64,
    near: f64,
    /// Along the middle line: number, widths, reaches, and the products of widths and reaches, of reaches and reaches.
    ridge: [f64; 5],
    deepest: f64,
}

/// Width of what is so deep in the middle: even widths have two middles, odd ones one.
fn wide(depth: f64) -> f64 {
    2.0 * depth - 0.5
}

impl Sum {
    fn new(width: usize, height: usize) -> Sum {
        Sum { bounds: [width, height, 0, 0], area: 0, far: 0.0, near: f64::INFINITY, ridge: [0.0; 5], deepest: 0.0 }
    }
    fn add(&mut self, (x, y): (usize, usize), reach: f64, ridge: bool, depth: f64) {
        let b = &mut self.bounds;
        *b = [b[0].min(x), b[1].min(y), b[2].max(x + 1), b[3].max(y + 1)];
        self.area += 1;
        self.far = self.far.max(reach);
        self.near = self.near.min(reach);
        self.deepest = self.deepest.max(depth);
        if ridge {
            let w = wide(depth);
            [1.0, w, reach, w * reach, reach * reach].iter().zip(&mut self.ridge).for_each(|(v, sum)| *sum += v);
        }
    }
    fn spot(&self, limit: f64) -> Spot {
        let [n, w, r, wr, rr] = self.ridge;
        let width = if n > 0.0 { w / n } else { wide(self.deepest) };
        // the width at the far end, by a straight line through all along the middle
        let spread = rr - r * r / n.max(1.0);
        let slope = if spread > 1e-9 { (wr - w * r / n) / spread } else { 0.0 };
        let end = width + slope * (self.far - r / n.max(1.0));
        let joined = self.near < limit / 2.0 + (0.3 * limit).max(2.0);
        // a nick where two edges meet is no longer than it is wide
        let nick = (self.area as f64) < 0.5 * limit * limit;
        Spot {
            bounds: self.bounds,
            area: self.area,
            width: width.max(1.0),
            is_tip: joined && (nick || (n > 2.0 && end < TAPERS * width)),
        }
    }
}

/// Distance of each square of the mask to what is not in it, the outside counted; 0 elsewhere.
fn depth(mask: &[bool], width: usize, height: usize) -> Vec<f32> {
    let out: Vec<bool> = mask.iter().map(|is| !is).collect();
    let mut depth = Distances::squared(&out, width, height);
    depth.par_chunks_mut(width).enumerate().for_each(|(y, row)| {
        let down = (y + 1).min(height - y);
        for (x, depth) in row.iter_mut().enumerate().filter(|(_, depth)| **depth > 0.0) {
            *depth = depth.sqrt().min((x + 1).min(width - x).min(down) as f32);
        }
    });
    depth
}

/// Depths in squares, of a plate or of what lies between its ink.
enum Depths {
    /// Squares of those up to a reach.
    Near(Vec<u8>),
    All(Vec<f32>),
}

impl Depths {
    /// Of the ink: distances to what is none, the outside counted. Up to a reach, or all of them.
    fn of_ink(plate: &Plate, reach: Option<usize>) -> Depths {
        let (width, height) = (plate.width, plate.height);
        let Some(reach) = reach else { return Depths::All(depth(&plate.mask(), width, height)) };
        let mut near = distance::near(&plate.cover, width, reach, |cover| cover < INK);
        let edge = |far: usize| ((far + 1) * (far + 1)) as u8;
        for far in 0..reach.min(width).min(height) {
            let (top, foot) = (far * width, (height - 1 - far) * width);
            for row in [top, foot] {
                near[row..row + width].iter_mut().for_each(|near| *near = (*near).min(edge(far)));
            }
            for row in near.chunks_mut(width) {
                row[far] = row[far].min(edge(far));
                row[width - 1 - far] = row[width - 1 - far].min(edge(far));
            }
        }
        Depths::Near(near)
    }

    /// Of the gaps: distances to ink. Up to a reach, or all of them; 0 where there is no ink.
    fn of_gaps(plate: &Plate, reach: Option<usize>) -> Depths {
        let (width, height) = (plate.width, plate.height);
        if let Some(reach) = reach {
            return Depths::Near(distance::near(&plate.cover, width, reach, |cover| cover >= INK));
        }
        let mut far = Distances::squared(&plate.mask(), width, height);
        far.par_iter_mut().for_each(|d| *d = if d.is_finite() { d.sqrt() } else { 0.0 });
        Depths::All(far)
    }

    /// Whether something is deeper than that.
    fn deeper_than(&self, known: f64) -> bool {
        match self {
            Depths::Near(near) => near.iter().any(|d| f64::from(*d) > known * known),
            Depths::All(all) => all.iter().any(|d| f64::from(*d) > known),
        }
    }

    /// The middle lines of what is no deeper than `known`.
    fn ridge(&self, width: usize, known: f64) -> Ridge {
        match self {
            Depths::Near(near) => {
                let deep: Vec<f32> =
                    (0..=BEYOND).map(|d| if d == BEYOND { f32::INFINITY } else { f32::from(d).sqrt() }).collect();
                let most = (known * known) as u8;
                ridge(near, width, |d| d > 0 && d <= most, |d| deep[usize::from(d)])
            }
            Depths::All(all) => ridge(all, width, |d| d > 0.0, |d| d),
        }
    }
}

/// Squares on middle lines, in order, with the width there.
type Ridge = Vec<(u32, f64)>;

/// Squares looked at by one worker at a time, and passed over at once where none of them is asked.
const SQUARES_A_WORKER: usize = 16_384;
const AT_ONCE: usize = 64;

/// The middle lines among squares that are `asked`, by the depth each has.
fn ridge<T: Copy + Sync>(
    squares: &[T],
    width: usize,
    asked: impl Fn(T) -> bool + Sync,
    depth: impl Fn(T) -> f32 + Sync,
) -> Ridge {
    let height = squares.len() / width;
    let depth_at = |at: usize| depth(squares[at]);
    let of = |(part, some): (usize, &[T])| {
        let mut ridge = Ridge::new();
        for (block, some) in some.chunks(AT_ONCE).enumerate() {
            if !some.iter().fold(false, |any, square| any | asked(*square)) {
                continue;
            }
            let first = part * SQUARES_A_WORKER + block * AT_ONCE;
            let places = (first..).zip(some).filter(|(_, square)| asked(**square)).map(|(at, _)| at);
            let on = places.filter(|at| is_ridge(depth_at, (width, height), *at));
            ridge.extend(on.map(|at| (at as u32, wide(f64::from(depth_at(at))))));
        }
        ridge
    };
    squares.par_chunks(SQUARES_A_WORKER).enumerate().flat_map_iter(of).collect()
}

/// Whether a square lies on the middle line of what it is in.
fn is_ridge(depth: impl Fn(usize) -> f32, (width, height): (usize, usize), at: usize) -> bool {
    let d = depth(at);
    if d <= 0.0 {
        return false;
    }
    let (x, y) = (at % width, at / width);
    // the square and those around it, by rows; beyond the edge nothing is deep
    let around: [f32; 9] = if x > 0 && y > 0 && x + 1 < width && y + 1 < height {
        std::array::from_fn(|i| depth(at + i / 3 * width + i % 3 - width - 1))
    } else {
        std::array::from_fn(|i| {
            let (u, v) = (x + i % 3, y + i / 3);
            let inside = (1..=width).contains(&u) && (1..=height).contains(&v);
            if inside { depth((v - 1) * width + u - 1) } else { 0.0 }
        })
    };
    // a step in an edge stands out too, but what lies further in is deeper by a whole square
    if around.iter().fold(0.0, |most: f32, near| most.max(*near)) > d + 0.75 {
        return false;
    }
    // steps across a middle line fall on both sides, by most of a square on at least one
    let stands_out = |one: usize, across: f32| {
        let (a, b) = (around[one], around[8 - one]);
        d >= a && d >= b && (d - a) + (d - b) > 0.9 * across
    };
    stands_out(3, 1.0)
        || stands_out(1, 1.0)
        || stands_out(0, std::f32::consts::SQRT_2)
        || stands_out(2, std::f32::consts::SQRT_2)
}

/// The finest of each in a plate, in squares; none where there is none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finest {
    /// Width of the thinnest line.
    pub line: Option<f64>,
    /// Width of the thinnest gap between ink.
    pub gap: Option<f64>,
    /// Diameter of the smallest spot that stands alone.
    pub dot: Option<f64>,
}

/// Widths are looked through in steps of this ratio, from a width at which a taper still shows on the grid.
const STEP: f64 = 1.2;
const FIRST: f64 = 6.0;
/// A middle line this many widths long is a line; a shorter one is a corner or a spot.
const LONG: f64 = 4.0;
/// What counts as the narrowest part of a line, over its least width.
const NARROW: f64 = 1.2;

/// Looks for all three.
pub fn finest(plate: &Plate) -> Finest {
    Finest { line: line(std::slice::from_ref(plate)), gap: gap(plate), dot: dot(plate) }
}

/// Width of the thinnest line of any of these plates, which are of one size, in squares.
pub fn line(plates: &[Plate]) -> Option<f64> {
    narrowest(plates.first()?.width, |reach| plates.iter().map(|plate| Depths::of_ink(plate, reach)).collect())
}

/// Width of the thinnest gap between ink, in squares; what is open to the outside is as deep as it lies far from ink.
pub fn gap(plate: &Plate) -> Option<f64> {
    narrowest(plate.width, |reach| vec![Depths::of_gaps(plate, reach)])
}

/// Diameter of the smallest spot that stands alone, in squares.
pub fn dot(plate: &Plate) -> Option<f64> {
    let (width, height, mask) = (plate.width, plate.height, plate.mask());
    let ink = depth(&mask, width, height);
    let (label, number) = parts(&mask, width, height, true);
    let mut dots = vec![(0.0f64, 0usize); number];
    for (at, label) in label.iter().enumerate() {
        if *label > 0 {
            let dot = &mut dots[*label as usize - 1];
            *dot = (dot.0.max(wide(f64::from(ink[at]))), dot.1 + 1);
        }
    }
    // round: no longer than wide; a speck of less than four squares is the grid's own
    let round = |(wide, area): &(f64, usize)| *area >= 4 && (*area as f64) < 1.6 * (wide + 1.0) * (wide + 1.0);
    let dot = dots.iter().filter(|d| round(d)).map(|(_, area)| (*area as f64 * 4.0 / std::f64::consts::PI).sqrt());
    dot.min_by(f64::total_cmp)
}

/// How deep is looked first, in squares: what is fine lies no deeper.
const REACHES: [usize; 2] = [8, 15];
/// A square on a middle line is told from those beside it, which may lie deeper by the diagonal and a little.
const BESIDE: f64 = 1.5;

/// The least width of which there is a middle line long and even enough, from the depths of each plate within a reach or all of them.
fn narrowest(width: usize, depths: impl Fn(Option<usize>) -> Vec<Depths>) -> Option<f64> {
    let mut top = FIRST;
    for reach in REACHES.map(Some).into_iter().chain([None]) {
        let depths = depths(reach);
        let known = reach.map_or(f64::INFINITY, |reach| reach as f64 - BESIDE);
        let ridges: Vec<Ridge> = depths.iter().map(|depths| depths.ridge(width, known)).collect();
        let deeper = depths.iter().any(|depths| depths.deeper_than(known));
        let widest = if deeper { f64::INFINITY } else { ridges.iter().flatten().map(|r| r.1).fold(FIRST, f64::max) };
        while top <= wide(known) && top / STEP < widest {
            let near = |ridge: &Ridge| ridge.iter().filter(|(_, w)| *w <= top).copied().collect::<Ridge>();
            let lines = ridges.iter().flat_map(|ridge| chains(&near(ridge), width)).filter_map(|chain| chain.line());
            if let Some(found) = lines.min_by(f64::total_cmp) {
                return Some(found.max(1.0));
            }
            top *= STEP;
        }
        if !deeper {
            return None;
        }
    }
    None
}

/// Squares of a middle line that hang together: place and width.
struct Chain {
    squares: Vec<([f64; 2], f64)>,
    bounds: [usize; 4],
}

impl Chain {
    /// Its width where it is narrowest, if that is along its way, as in a line or a neck, and not at its ends, as in a taper.
    fn line(&self) -> Option<f64> {
        let number = self.squares.len() as f64;
        let mut widths: Vec<f64> = self.squares.iter().map(|s| s.1).collect();
        widths.sort_by(f64::total_cmp);
        // corners at the end of a bar have narrow middle lines of their own
        let (least, most) = (widths[widths.len() * 3 / 20], widths[widths.len() - 1]);
        let long = [self.bounds[2] - self.bounds[0], self.bounds[3] - self.bounds[1]].map(|v| v as f64);
        let mean = widths.iter().sum::<f64>() / number;
        // the end of a taper breaks into short stretches of one square
        let wanted = if most < 2.0 { 25.0 } else { LONG * mean.min(2.0 * least) };
        // a middle line of even width is two squares thick, so it is measured by its extent as well
        if number < wanted || (libm::hypot(long[0], long[1]) < 0.8 * wanted && number < 3.0 * wanted) {
            return None;
        }
        let axis = usize::from(long[1] > long[0]);
        let first = self.bounds[axis] as f64;
        let inner = |place: &[f64; 2]| (0.38..=0.62).contains(&((place[axis] - first) / long[axis].max(1.0)));
        let narrow = self.squares.iter().filter(|(place, width)| *width <= NARROW * least + 0.5 && inner(place));
        let (sum, found) = narrow.fold((0.0, 0.0), |(sum, n), s| (sum + s.1, n + 1.0));
        (found >= 3.0).then(|| sum / found)
    }
}

fn chains(ridge: &[(u32, f64)], width: usize) -> Vec<Chain> {
    let mut seen = vec![false; ridge.len()];
    let find = |at: i64| ridge.binary_search_by_key(&at, |r| i64::from(r.0)).ok();
    let mut out = Vec::new();
    for first in 0..ridge.len() {
        if seen[first] {
            continue;
        }
        let mut chain = Chain { squares: Vec::new(), bounds: [usize::MAX, usize::MAX, 0, 0] };
        let mut open = vec![first];
        seen[first] = true;
        while let Some(at) = open.pop() {
            let place = i64::from(ridge[at].0);
            let (x, y) = (place as usize % width, place as usize / width);
            let b = &mut chain.bounds;
            *b = [b[0].min(x), b[1].min(y), b[2].max(x + 1), b[3].max(y + 1)];
            chain.squares.push(([x as f64, y as f64], ridge[at].1));
            for (dx, dy) in (-2i64..=2).flat_map(|dy| (-2i64..=2).map(move |dx| (dx, dy))) {
                if !(0..width as i64).contains(&(x as i64 + dx)) {
                    continue;
                }
                if let Some(next) = find(place + dy * width as i64 + dx).filter(|next| !seen[*next]) {
                    seen[next] = true;
                    open.push(next);
                }
            }
        }
        out.push(chain);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A block with a bar `thin` wide and a slit `slit` wide.
    fn comb(thin: usize, slit: usize) -> Plate {
        Plate::of(300, 200, |x, y| {
            let block = (20..120).contains(&x) && (20..180).contains(&y) && !(60..60 + slit).contains(&x);
            block || ((120..280).contains(&x) && (100..100 + thin).contains(&y))
        })
    }

    #[test]
    fn bars_and_slits_are_measured() {
        for (thin, slit) in [(4, 9), (7, 5), (12, 12)] {
            let found = finest(&comb(thin, slit));
            let (line, gap) = (found.line.expect("a line"), found.gap.expect("a gap"));
            assert!((line - thin as f64).abs() <= 1.0, "{thin}: {line}");
            assert!((gap - slit as f64).abs() <= 1.0, "{slit}: {gap}");
        }
    }

    #[test]
    fn a_bar_below_the_limit_is_marked_and_one_above_is_not() {
        let plate = comb(6, 20);
        let mask = plate.mask();
        let fine = too_fine(&mask, plate.width, plate.height, 9.0);
        let spots: Vec<&Spot> = fine.spots.iter().filter(|s| !s.is_tip).collect();
        assert_eq!(spots.len(), 1, "{:?}", fine.spots);
        assert!(spots[0].bounds[0] > 115 && spots[0].bounds[2] <= 280 && (spots[0].width - 6.0).abs() < 1.0);
        assert!(too_fine(&mask, plate.width, plate.height, 5.0).spots.is_empty());
    }

    #[test]
    fn corners_pass_and_a_spike_is_a_tip() {
        let square = Plate::of(100, 100, |x, y| (20..80).contains(&x) && (20..80).contains(&y));
        assert!(too_fine(&square.mask(), 100, 100, 12.0).spots.is_empty());
        // a wedge of one in six
        let wedge = Plate::of(400, 120, |x, y| (y as f64 - 60.0).abs() < (380.0 - x as f64) / 8.0 && x < 380);
        let fine = too_fine(&wedge.mask(), 400, 120, 16.0);
        assert!(fine.spots.iter().all(|s| s.is_tip) && !fine.spots.is_empty(), "{:?}", fine.spots);
        assert!(finest(&wedge).line.is_none_or(|w| w > 40.0), "{:?}", finest(&wedge));
    }

    /// A neck between two fields is a line at its narrowest, though it is nowhere even.
    #[test]
    fn a_neck_is_found() {
        let plate = Plate::of(300, 200, |x, y| {
            (y as f64 - 100.0).abs() < 4.0 + (x as f64 - 150.0).abs() / 6.0 && (10..290).contains(&x)
        });
        let line = finest(&plate).line.expect("a neck");
        assert!((line - 8.0).abs() <= 1.5, "{line}");
    }

    #[test]
    fn a_spot_that_stands_alone_is_a_dot() {
        let plate = Plate::of(120, 120, |x, y| {
            let disc = |cx: f64, cy: f64, r: f64| libm::hypot(x as f64 - cx, y as f64 - cy) < r;
            disc(30.0, 30.0, 20.0) || disc(90.0, 80.0, 5.0)
        });
        let dot = finest(&plate).dot.expect("a dot");
        assert!((dot - 10.0).abs() < 1.0, "{dot}");
        assert_eq!(finest(&Plate::empty(9, 9)), Finest { line: None, gap: None, dot: None });
    }
}
