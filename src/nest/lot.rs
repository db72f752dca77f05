//! The pieces as the search sees them: in single precision, each turn a form of its own with its least corner at the origin,
//! filled with *poles*. A pole is a circle inside the piece, the largest that fits beside the earlier ones; how deep the poles
//! of two pieces run into each other says how badly they overlap (Gardeyn, Vanden Berghe and Wauters 2025).

use super::job::{Across, Fault, Job, Piece, Steps, Turn, matched};
use super::poles;
use super::proof::drawn_in;
use crate::geom::{self, Point, Vec2};
use jagua_rs::geometry::Transformation;
use jagua_rs::geometry::fail_fast::{SPSurrogate, SPSurrogateConfig};
use jagua_rs::geometry::geo_traits::Transformable;
use jagua_rs::geometry::primitives as engine;
use std::collections::VecDeque;
use std::ops::Range;
use std::sync::{Arc, Mutex, PoisonError};

/// Poles are added until this many cover so much of the piece: (at least, above this share).
const POLES: [(usize, f32); 3] = [(48, 0.0), (16, 0.8), (8, 0.9)];
/// A search of no more places than this is short: its poles are found on a grid.
const SHORT: u64 = 20_000;

/// The outline in which poles are found may lie off the true one by this part of the piece's diameter.
const PLAIN: f64 = 400.0;

/// Poles of one form, largest first, as columns of blocks; the last block is filled up with poles of no size.
#[derive(Clone, Debug, Default)]
pub(super) struct Poles {
    /// Without those that fill up.
    pub len: usize,
    pub x: Vec<[f32; LANES]>,
    pub y: Vec<[f32; LANES]>,
    pub r: Vec<[f32; LANES]>,
}

/// Poles handled together.
pub(super) const LANES: usize = 4;

/// A piece at one turn.
#[derive(Clone, Debug)]
pub(super) struct Form {
    pub turn: Turn,
    pub polygon: engine::SPolygon,
    pub poles: Poles,
    /// Extent along and across the cloth.
    pub size: (f32, f32),
    /// Where its least corner may lie across the cloth.
    pub across: (f32, f32),
    /// Places its least corner must keep to along and across the cloth, where stripes are matched; the table knows how many there are
    /// along.
    pub steps: (Option<Steps>, Option<Steps>),
    /// The forms of the same piece.
    pub turns: Range<usize>,
    /// From the turned outline's origin to the form's.
    pub shift: Vec2,
    /// Fourth root of the hull's area: two forms' product is a length that scales an overlap to their size.
    pub weight: f32,
    /// Greatest distance within it.
    pub diameter: f32,
}

/// One copy to lay.
#[derive(Clone, Debug)]
pub(super) struct Copy {
    pub piece: usize,
    pub copy: usize,
    /// Its forms in [`Lot::forms`].
    pub forms: Range<usize>,
    /// Area of the hull.
    pub hull: f32,
}

/// Everything to lay.
#[derive(Clone, Debug)]
pub(super) struct Lot {
    pub forms: Vec<Form>,
    pub copies: Vec<Copy>,
    pub width: f32,
    /// Least length that could hold the pieces: by area, and by the longest of them.
    pub least_length: f32,
}

impl Lot {
    /// The lot for a search of so many places.
    pub fn new(job: &Job, places: u64) -> Result<Lot, Fault> {
        if let Some(fault) = job.fault() {
            return Err(fault);
        }
        let (mut forms, mut copies) = (Vec::new(), Vec::new());
        for (i, piece) in job.pieces.iter().enumerate().filter(|(_, p)| p.how_many > 0) {
            let from = forms.len();
            let hull = add_forms(job, (i, piece), places <= SHORT, &mut forms)?;
            let piece_forms = from..forms.len();
            forms[piece_forms.clone()].iter_mut().for_each(|form| form.turns = piece_forms.clone());
            let forms = piece_forms;
            copies.extend((0..piece.how_many).map(|copy| Copy { piece: i, copy, forms: forms.clone(), hull }));
        }
        set_along(job, &copies, &mut forms);
        let end = |f: &Form| f.size.0 + f.steps.0.map_or(0.0, |steps| steps.first as f32);
        let least = |c: &Copy| forms[c.forms.clone()].iter().map(end).fold(f32::INFINITY, f32::min);
        let longest = copies.iter().map(least).fold(0.0, f32::max);
        let by_area = (job.area() / (job.strip.width + job.clearance)) as f32;
        // A hair more, since lengths are known in single precision only.
        let least_length = longest.max(by_area) * 1.000_001;
        Ok(Lot { least_length, forms, copies, width: job.strip.width as f32 })
    }
}

/// Sets where forms may lie along striped cloth. Where the stripes begin is free: so that the longest piece may lie at its start.
fn set_along(job: &Job, copies: &[Copy], forms: &mut [Form]) {
    let Some(every) = job.repeat.along else { return };
    let mut ahead: Vec<Option<f64>> = vec![None; forms.len()];
    for copy in copies {
        let piece = &job.pieces[copy.piece];
        for at in copy.forms.clone() {
            ahead[at] = piece.match_at.map(|point| matched(&piece.outline, forms[at].turn, point).x);
        }
    }
    let held = (0..forms.len()).filter_map(|at| Some((forms[at].size.0, ahead[at]?)));
    let Some((_, line)) = held.max_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    for (form, ahead) in forms.iter_mut().zip(ahead) {
        form.steps.0 = ahead.map(|ahead| Steps { first: (line - ahead).rem_euclid(every), every, more: f64::MAX });
    }
}

/// Adds a piece's forms, leaving out turns that change nothing. Returns its hull's area.
fn add_forms(job: &Job, (i, piece): (usize, &Piece), short: bool, forms: &mut Vec<Form>) -> Result<f32, Fault> {
    drawn_in(i, piece, job.clearance)?;
    let outline = thinned(&geom::tidy(&piece.outline), job.clearance / 8.0);
    let too_fine = || Fault::TooFine { piece: i };
    let Ready { own, poles: own_poles, hull } = &*ready(&outline, short).ok_or_else(too_fine)?;
    let mut seen: Vec<Vec<Point>> = Vec::new();
    for turn in piece.turns.iter() {
        let Some(Across { from, to, steps }) = job.across(piece, turn) else { continue };
        let turned: Vec<Point> = outline.iter().map(|p| turn.apply(p.to_vec2()).to_point()).collect();
        let shift = to_origin(&turned);
        let placed: Vec<Point> = turned.iter().map(|p| *p + shift).collect();
        let anywhere = matches!(piece.zone, super::job::Zone::Anywhere) && piece.match_at.is_none();
        let same_zone = seen.is_empty() || anywhere;
        if same_zone && seen.iter().any(|s| same(s, &placed)) {
            continue;
        }
        let bounds = geom::bounds(&placed);
        let polygon = at_turn(own, turn, shift - turn.apply(to_origin(&outline)));
        seen.push(placed);
        let size = (bounds.width() as f32, bounds.height() as f32);
        forms.push(Form {
            turn,
            poles: columns(&own_poles.iter().map(|(c, r)| (turn.apply(c.to_vec2()) + shift, *r)).collect::<Vec<_>>()),
            size,
            across: (from as f32, to.max(from) as f32),
            steps: (None, steps),
            turns: 0..0,
            shift,
            weight: hull.sqrt().sqrt(),
            diameter: polygon.diameter(),
            polygon,
        });
    }
    Ok(*hull)
}

/// An outline as the search takes it.
#[derive(Clone, Debug)]
struct Ready {
    own: engine::SPolygon,
    poles: Vec<(Point, f32)>,
    hull: f32,
}

/// Outlines made ready that are kept.
const KEPT: usize = 48;

/// Makes an outline ready; `None` where it is too fine. The last ones are kept: the same pieces are laid on one width of cloth after another,
/// and again when the plan was edited.
fn ready(outline: &[Point], short: bool) -> Option<Arc<Ready>> {
    static LAST: Mutex<VecDeque<Known>> = Mutex::new(VecDeque::new());
    let held = || LAST.lock().unwrap_or_else(PoisonError::into_inner);
    let known =
        held().iter().find(|(had, way, _)| *way == short && had == outline).map(|(.., ready)| Arc::clone(ready));
    if let Some(ready) = known {
        return Some(ready);
    }
    let own = polygon(outline)?;
    let (poles, hull) = steering(outline, &own, short)?;
    let ready = Arc::new(Ready { own, poles, hull });
    let mut held = held();
    held.truncate(KEPT - 1);
    held.push_front((outline.to_vec(), short, Arc::clone(&ready)));
    Some(ready)
}

/// An outline, whether for a short search, and what it came to.
type Known = (Vec<Point>, bool, Arc<Ready>);

/// A piece's poles, and the area of its hull.
fn steering(outline: &[Point], own: &engine::SPolygon, short: bool) -> Option<(Vec<(Point, f32)>, f32)> {
    // The poles only steer the search; found in a plainer outline they lie as well, and are found many times sooner.
    let plain = thinned(outline, f64::from(own.diameter()) / PLAIN);
    if short {
        let poles = poles::on_a_grid(&plain);
        if !poles.is_empty() {
            let hull = poles::hull_area(outline) as f32;
            return Some((poles.into_iter().map(|(at, r)| (at, r as f32)).collect(), hull));
        }
    }
    let config = SPSurrogateConfig { n_pole_limits: POLES, ff_pole_area_ratio: 0.0, n_ff_piers: 0 };
    let (polygon, shift) = match polygon(&plain) {
        Some(polygon) => (polygon, to_origin(&plain)),
        None => (own.clone(), to_origin(outline)),
    };
    let surrogate = SPSurrogate::new(&polygon, config).ok()?;
    let point = |c: &engine::Circle| Point::new(c.center.0.into(), c.center.1.into()) - shift;
    Some((surrogate.poles.iter().map(|c| (point(c), c.radius)).collect(), surrogate.convex_hull_area))
}

/// The outline without the points it can do without: none kept nearer than `by` to the last, nor where the straight line past
/// it runs within `by` of all that is left out.
fn thinned(outline: &[Point], by: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(outline.len());
    let mut left_out: Vec<Point> = Vec::new();
    for (i, p) in outline.iter().enumerate() {
        let next = outline[(i + 1) % outline.len()];
        left_out.push(*p);
        let skip =
            kept.last().is_some_and(|last| left_out.iter().all(|q| geom::distance_to_edge(*q, *last, next) <= by));
        if !skip || left_out.len() > 64 {
            kept.push(*p);
            left_out.clear();
        }
    }
    kept
}

/// The shift that takes an outline's least corner to the origin.
fn to_origin(outline: &[Point]) -> Vec2 {
    -geom::bounds(outline).origin().to_vec2()
}

/// The outline in the engine's terms, least corner at the origin. Dear: the engine looks for the middle of the piece.
fn polygon(outline: &[Point]) -> Option<engine::SPolygon> {
    let shift = to_origin(outline);
    let mut points: Vec<engine::Point> =
        outline.iter().map(|p| *p + shift).map(|p| engine::Point(p.x as f32, p.y as f32)).collect();
    points.dedup();
    engine::SPolygon::new(points).ok()
}

/// The polygon turned about the origin, then moved by `by`. The engine's sines leave it off by a few units in the last place.
fn at_turn(polygon: &engine::SPolygon, turn: Turn, by: Vec2) -> engine::SPolygon {
    if turn == Turn::None {
        return polygon.clone();
    }
    let angle = f32::from(turn.degrees()).to_radians();
    let turning = Transformation::from_rotation(angle).translate((by.x as f32, by.y as f32));
    let mut turned = polygon.clone();
    turned.transform(&turning);
    turned
}

/// Whether two outlines are the same but for where they begin.
fn same(a: &[Point], b: &[Point]) -> bool {
    let near = |p: &Point, q: &Point| (*p - *q).hypot() < 1e-6;
    (0..b.len()).any(|k| near(&a[0], &b[k]) && a.iter().zip(b.iter().cycle().skip(k)).all(|(p, q)| near(p, q)))
}

fn columns(poles: &[(Vec2, f32)]) -> Poles {
    let mut columns = Poles { len: poles.len(), ..Poles::default() };
    for block in poles.chunks(LANES) {
        let lane = |l: usize| block.get(l).copied().unwrap_or((block[0].0, 0.0));
        columns.x.push(std::array::from_fn(|l| lane(l).0.x as f32));
        columns.y.push(std::array::from_fn(|l| lane(l).0.y as f32));
        columns.r.push(std::array::from_fn(|l| lane(l).1));
    }
    columns
}
