//! What is to be laid, and what is wrong with the asking. All lengths in millimetres: x along the cloth (the warp), y across it
//! from one selvedge.

use crate::geom::{self, Flaw, Point, Vec2};
use std::fmt;

/// What a layout may overlook, mm: how far a piece may reach past the selvedge, or two pieces into each other. The collision
/// engine counts touching as a hit and works in single precision, so a piece as wide as the cloth needs a hair's room. Half
/// the thread of a fine cloth.
pub const CLEARANCE: f64 = 0.05;
/// Most points of one outline.
pub const MOST_POINTS: usize = 2_000;
/// Most pieces to lay, copies counted.
pub const MOST_PIECES: usize = 400;

/// The cloth: a strip of this finished width, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    pub width: f64,
}

/// A quarter turn or several, anticlockwise (y up).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    None,
    Quarter,
    Half,
    ThreeQuarters,
}

impl Turn {
    pub const ALL: [Turn; 4] = [Turn::None, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];

    /// 0, 90, 180 or 270.
    pub fn degrees(self) -> u16 {
        self as u16 * 90
    }

    /// A vector turned, exactly.
    pub fn apply(self, v: Vec2) -> Vec2 {
        match self {
            Turn::None => v,
            Turn::Quarter => Vec2::new(-v.y, v.x),
            Turn::Half => Vec2::new(-v.x, -v.y),
            Turn::ThreeQuarters => Vec2::new(v.y, -v.x),
        }
    }
}

/// The turns a piece may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turns(u8);

impl Turns {
    /// As drawn only: cloth with a nap, a one-way print or stripes.
    pub const ONE_WAY: Turns = Turns(1);
    /// As drawn or end for end: the grain stays along the warp.
    pub const GRAIN: Turns = Turns(1 | 4);
    /// Any quarter turn, for parts that do not mind the grain.
    pub const QUARTERS: Turns = Turns(15);

    /// The set of these degrees; `None` unless each is 0, 90, 180 or 270 (whole turns taken off) and there is at least one.
    pub fn of_degrees(degrees: &[i32]) -> Option<Turns> {
        let bit = |d: &i32| (d % 90 == 0).then(|| 1 << (d.rem_euclid(360) / 90));
        let set = degrees.iter().map(bit).try_fold(0, |set, bit| Some(set | bit?))?;
        (set != 0).then_some(Turns(set))
    }

    /// The turns in the set, least first.
    pub fn iter(self) -> impl Iterator<Item = Turn> {
        Turn::ALL.into_iter().filter(move |t| self.0 & (1 << *t as u8) != 0)
    }
}

/// Where across the cloth a piece may lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Zone {
    Anywhere,
    /// Wholly between these distances from the selvedge at y = 0: away from a seam, within a stripe.
    Band {
        from: f64,
        to: f64,
    },
    /// With its own lowest side (least y, as drawn) along a selvedge that serves as its finished edge: at y = 0 as drawn, at
    /// the other selvedge when turned end for end.
    Selvedge,
}

/// Stripes of the cloth. Pieces with a match point lie so that stripes meet across their seams.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Repeat {
    /// Repeat along the cloth, mm: match points lie whole repeats apart. Where the first of them lies is free, since the order of
    /// the weft may be begun at any pick.
    pub along: Option<f64>,
    /// Repeat across the cloth.
    pub across: Option<Lines>,
}

/// Lines along the cloth on which match points lie, mm: one `from` the selvedge at y = 0, the others `every` so far from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lines {
    pub from: f64,
    pub every: f64,
}

/// Shortest repeat that pieces are matched by, mm: nobody sees a stripe finer than this run on.
pub const LEAST_REPEAT: f64 = 1.0;

/// A piece to cut, with its seam allowances.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Closed by itself, either direction, grain along x.
    pub outline: Vec<Point>,
    pub turns: Turns,
    pub how_many: usize,
    pub zone: Zone,
    /// The point, in the outline's own terms, that lies on the same place of the stripes as every other piece's; none where stripes
    /// do not matter. See [`Repeat`].
    pub match_at: Option<Point>,
}

impl Piece {
    /// One copy, grain kept, anywhere, whatever the stripes.
    pub fn new(outline: Vec<Point>) -> Self {
        Piece { outline, turns: Turns::GRAIN, how_many: 1, zone: Zone::Anywhere, match_at: None }
    }
}

/// All that is to be laid on one strip.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    pub strip: Strip,
    pub pieces: Vec<Piece>,
    /// See [`CLEARANCE`]; above 0 and at most a hundredth of the width.
    pub clearance: f64,
    /// No stripes unless stated.
    pub repeat: Repeat,
}

impl Job {
    /// A job with the usual clearance, on cloth without stripes.
    pub fn new(width: f64, pieces: Vec<Piece>) -> Self {
        Job { strip: Strip { width }, pieces, clearance: CLEARANCE, repeat: Repeat::default() }
    }

    /// Area of all pieces, mm².
    pub fn area(&self) -> f64 {
        self.pieces.iter().map(|p| geom::area(&p.outline).abs() * p.how_many as f64).sum()
    }

    /// The first thing that makes the job impossible.
    pub fn fault(&self) -> Option<Fault> {
        let Job { strip: Strip { width }, pieces, clearance, repeat } = self;
        if !(width.is_finite() && *width > 0.0 && *width <= geom::GREATEST) {
            return Some(Fault::Strip { width: *width });
        }
        if !(*clearance > 0.0 && *clearance <= width / 100.0) {
            return Some(Fault::Clearance { clearance: *clearance });
        }
        let repeats = repeat.along.into_iter().chain(repeat.across.map(|lines| lines.every));
        if let Some(mm) = { repeats }.find(|mm| !(LEAST_REPEAT..=geom::GREATEST).contains(mm)) {
            return Some(Fault::Repeat { mm });
        }
        if repeat.across.is_some_and(|lines| !(-geom::GREATEST..=geom::GREATEST).contains(&lines.from)) {
            return Some(Fault::Repeat { mm: f64::NAN });
        }
        let count: usize = pieces.iter().fold(0, |sum, p| sum.saturating_add(p.how_many));
        if count == 0 || count > MOST_PIECES {
            return Some(Fault::HowMany { pieces: count });
        }
        pieces.iter().enumerate().find_map(|(i, piece)| self.fault_of(i, piece))
    }

    fn fault_of(&self, i: usize, piece: &Piece) -> Option<Fault> {
        if piece.outline.len() > MOST_POINTS {
            return Some(Fault::TooManyPoints { piece: i, points: piece.outline.len() });
        }
        if let Some(flaw) = geom::flaw(&geom::tidy(&piece.outline)) {
            return Some(Fault::Outline { piece: i, flaw });
        }
        let least = piece.turns.iter().map(|t| height(&piece.outline, t)).fold(f64::INFINITY, f64::min);
        if least > self.strip.width + self.clearance / 8.0 {
            return Some(Fault::TooWide { piece: i, width: least, strip: self.strip.width });
        }
        if !piece.turns.iter().any(|t| self.room(piece, t).is_some()) {
            return Some(Fault::NoRoom { piece: i });
        }
        let fits = piece.turns.iter().any(|t| self.across(piece, t).is_some());
        let every = self.repeat.across.map_or(0.0, |lines| lines.every);
        (!fits).then_some(Fault::NoMatch { piece: i, every, strip: self.strip.width })
    }

    /// Where the least corner of a piece so turned may lie across the cloth. `None` when it has no room, or the stripes leave it none.
    pub(super) fn across(&self, piece: &Piece, turn: Turn) -> Option<Across> {
        let (from, to) = self.room(piece, turn)?;
        let Some(at) = piece.match_at else { return Some(Across { from, to, steps: None }) };
        if !matches!(turn, Turn::None | Turn::Half) && self.repeat != Repeat::default() {
            return None;
        }
        let Some(Lines { from: line, every }) = self.repeat.across else {
            return Some(Across { from, to, steps: None });
        };
        let above = matched(&piece.outline, turn, at).y;
        let first = line - above + ((from - line + above) / every).ceil() * every;
        let more = ((to - first) / every).floor();
        (more >= 0.0).then_some(Across { from, to, steps: Some(Steps { first, every, more }) })
    }

    /// Where the lowest point of a piece so turned may lie across the cloth, stripes apart: from, to. `None` when it has no room.
    fn room(&self, piece: &Piece, turn: Turn) -> Option<(f64, f64)> {
        let (height, width) = (height(&piece.outline, turn), self.strip.width);
        // An eighth less than the proof allows on each side, for single precision.
        let slack = self.clearance * 3.0 / 8.0;
        let (from, to) = match (piece.zone, turn) {
            (Zone::Anywhere, _) => (-slack, width + slack - height),
            (Zone::Band { from, to }, _) if from <= to => (from.max(0.0) - slack, to.min(width) + slack - height),
            (Zone::Band { .. }, _) => return None,
            (Zone::Selvedge, Turn::None) => (0.0, 0.0),
            (Zone::Selvedge, Turn::Half) => (width - height, width - height),
            (Zone::Selvedge, _) => return None,
        };
        let inside = from >= -slack && to <= width + slack - height + 1e-9 && height <= width + self.clearance / 8.0;
        (inside && from <= to).then_some((from, to))
    }
}

/// Where a least corner may lie across the cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Across {
    pub from: f64,
    pub to: f64,
    /// Only there, where stripes are matched.
    pub steps: Option<Steps>,
}

/// Places a repeat apart: the first, and so many more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Steps {
    pub first: f64,
    pub every: f64,
    pub more: f64,
}

impl Steps {
    /// The place nearest `at`.
    pub fn nearest(self, at: f32) -> f32 {
        self.place(((f64::from(at) - self.first) / self.every).round())
    }

    /// The first place not before `at`, else the last.
    pub fn from(self, at: f32) -> f32 {
        self.place(((f64::from(at) - self.first) / self.every - 1e-6).ceil())
    }

    /// The last place not after `at`, else the first.
    pub fn until(self, at: f32) -> f32 {
        self.place(((f64::from(at) - self.first) / self.every + 1e-6).floor())
    }

    fn place(self, k: f64) -> f32 {
        (self.first + k.clamp(0.0, self.more) * self.every) as f32
    }
}

/// A match point from the least corner of its outline, both so turned.
pub(super) fn matched(outline: &[Point], turn: Turn, at: Point) -> Vec2 {
    let turned: Vec<Point> = outline.iter().map(|p| turn.apply(p.to_vec2()).to_point()).collect();
    turn.apply(at.to_vec2()) - geom::bounds(&turned).origin().to_vec2()
}

/// Extent across the cloth of an outline so turned.
fn height(outline: &[Point], turn: Turn) -> f64 {
    let size = geom::bounds(outline).size();
    if matches!(turn, Turn::None | Turn::Half) { size.height } else { size.width }
}

/// Why a job cannot be laid. `piece` is its place in [`Job::pieces`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// The strip's width is not a believable number.
    Strip { width: f64 },
    /// The clearance is not above 0, or more than a hundredth of the width.
    Clearance { clearance: f64 },
    /// No piece, or more than [`MOST_PIECES`].
    HowMany { pieces: usize },
    /// More points than [`MOST_POINTS`].
    TooManyPoints { piece: usize, points: usize },
    /// The outline is not simple.
    Outline { piece: usize, flaw: Flaw },
    /// A spike or slit finer than the clearance.
    TooFine { piece: usize },
    /// Wider than the cloth at every turn allowed: to be split. `width` is its least.
    TooWide { piece: usize, width: f64, strip: f64 },
    /// Its zone has no room for it.
    NoRoom { piece: usize },
    /// A repeat shorter than [`LEAST_REPEAT`], or no number.
    Repeat { mm: f64 },
    /// On no place across the cloth do its stripes meet those of the other pieces.
    NoMatch { piece: usize, every: f64, strip: f64 },
    /// No layout passed the proof: a mistake of ours, never taken for a result.
    Unproved,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::Strip { width } => write!(f, "the cloth's width of {width} mm is no width"),
            Fault::Clearance { clearance } => write!(f, "a clearance of {clearance} mm is no clearance for this width"),
            Fault::HowMany { pieces: 0 } => write!(f, "there is nothing to lay"),
            Fault::HowMany { pieces } => write!(f, "{pieces} pieces to lay; {MOST_PIECES} is the most"),
            Fault::TooManyPoints { piece, points } => {
                write!(f, "piece {} has {points} points; {MOST_POINTS} is the most", piece + 1)
            }
            Fault::Outline { piece, flaw } => write!(f, "piece {}: {flaw}", piece + 1),
            Fault::TooFine { piece } => write!(f, "piece {} has a spike or slit finer than the clearance", piece + 1),
            Fault::TooWide { piece, width, strip } => {
                write!(f, "piece {} is {width:.1} mm wide and the cloth {strip:.1} mm: it must be split", piece + 1)
            }
            Fault::NoRoom { piece } => write!(f, "piece {} has no room in the zone it must lie in", piece + 1),
            Fault::Repeat { mm } => write!(f, "stripes cannot be matched by a repeat of {mm} mm"),
            Fault::NoMatch { piece, every, strip } => write!(
                f,
                "piece {} finds no place on cloth {strip:.1} mm wide where its stripes match: they repeat every {every:.1} mm only",
                piece + 1
            ),
            Fault::Unproved => write!(f, "no layout could be proved free of overlap"),
        }
    }
}

impl std::error::Error for Fault {}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Rect, rectangle};

    fn piece(w: f64, h: f64) -> Piece {
        Piece::new(rectangle(Rect::new(0., 0., w, h)))
    }

    #[test]
    fn turns_from_degrees() {
        assert_eq!(Turns::of_degrees(&[0, 180]), Some(Turns::GRAIN));
        assert_eq!(Turns::of_degrees(&[-90, 450, 0, 180]), Some(Turns::QUARTERS));
        assert_eq!(Turns::of_degrees(&[45]), None);
        assert_eq!(Turns::of_degrees(&[]), None);
        assert_eq!(Turns::GRAIN.iter().map(Turn::degrees).collect::<Vec<_>>(), [0, 180]);
    }

    #[test]
    fn a_piece_wider_than_the_cloth_is_named() {
        let mut job = Job::new(400.0, vec![piece(100., 400.0), piece(500.0, 401.0)]);
        assert_eq!(job.fault(), Some(Fault::TooWide { piece: 1, width: 401.0, strip: 400.0 }));
        job.pieces[1] = piece(401.0, 300.0);
        assert_eq!(job.fault(), None, "as wide as the cloth fits");
        job.pieces[1] = Piece { turns: Turns::QUARTERS, ..piece(390.0, 900.0) };
        assert_eq!(job.fault(), None, "turned it fits");
    }

    #[test]
    fn hostile_jobs_are_refused() {
        let fault = |job: Job| job.fault();
        assert!(matches!(fault(Job::new(f64::NAN, vec![piece(1., 1.)])), Some(Fault::Strip { .. })));
        assert!(matches!(fault(Job::new(-3.0, vec![piece(1., 1.)])), Some(Fault::Strip { .. })));
        assert_eq!(fault(Job::new(10.0, vec![])), Some(Fault::HowMany { pieces: 0 }));
        let many = Piece { how_many: usize::MAX, ..piece(1., 1.) };
        assert!(matches!(fault(Job::new(10.0, vec![many.clone(), many])), Some(Fault::HowMany { .. })));
        let round = (0..3000).map(|i| Point::new(f64::from(i), f64::from(i % 2))).collect();
        assert!(matches!(fault(Job::new(10.0, vec![Piece::new(round)])), Some(Fault::TooManyPoints { .. })));
        let bow = [(0., 0.), (4., 4.), (4., 0.), (0., 5.)].map(Point::from).to_vec();
        let flaw = fault(Job::new(10.0, vec![piece(1., 1.), Piece::new(bow)]));
        assert!(matches!(flaw, Some(Fault::Outline { piece: 1, flaw: Flaw::CrossesItself(_) })));
        let mut coarse = Job::new(10.0, vec![piece(1., 1.)]);
        coarse.clearance = 1.0;
        assert!(matches!(fault(coarse), Some(Fault::Clearance { .. })));
    }

    #[test]
    fn zones_that_cannot_hold_a_piece() {
        let with = |zone| Job::new(400.0, vec![Piece { zone, ..piece(100., 100.) }]).fault();
        assert_eq!(with(Zone::Band { from: 10.0, to: 110.0 }), None);
        assert_eq!(with(Zone::Band { from: 10.0, to: 100.0 }), Some(Fault::NoRoom { piece: 0 }));
        assert_eq!(with(Zone::Band { from: f64::NAN, to: 300.0 }), Some(Fault::NoRoom { piece: 0 }));
        assert_eq!(with(Zone::Band { from: 500.0, to: 700.0 }), Some(Fault::NoRoom { piece: 0 }));
        assert_eq!(with(Zone::Selvedge), None);
        let quarter = Piece { zone: Zone::Selvedge, turns: Turns(2), ..piece(100., 100.) };
        assert_eq!(Job::new(400.0, vec![quarter]).fault(), Some(Fault::NoRoom { piece: 0 }));
    }
}
