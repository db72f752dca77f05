//! The proof of a layout, in double precision with exact side-of-line tests. It shares no code with the search or its
//! collision engine: it counts the pieces, sees that each lies within the cloth and its zone and on the stripes it must match,
//! and that any two, each drawn in by half the clearance, share no point.

use super::job::{Fault, Job, Lines, Piece, Turn, Zone};
use super::layout::{Layout, Placement, Proof};
use crate::geom::{self, Point, Rect};
use std::fmt;

/// What is wrong with a layout. Numbers are places in [`Layout::placements`] unless named otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Breach {
    /// A copy of a piece is not there, is there twice, or was never asked for.
    Count { piece: usize, copy: usize },
    /// Turned in a way its piece does not allow.
    Turned { placement: usize },
    /// Past the cloth's edge or end, by this many mm.
    Outside { placement: usize, by: f64 },
    /// Not where its zone wants it.
    Zone { placement: usize },
    /// Its stripes lie so many mm off those of the other pieces.
    Match { placement: usize, by: f64 },
    /// Two pieces overlap.
    Overlap { first: usize, second: usize },
    /// The job itself is at fault, or a piece is finer than the clearance.
    Job(Fault),
}

impl fmt::Display for Breach {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Breach::Count { piece, copy } => write!(f, "copy {} of piece {} is not laid once", copy + 1, piece + 1),
            Breach::Turned { placement } => write!(f, "placement {placement} is turned as it must not be"),
            Breach::Outside { placement, by } => write!(f, "placement {placement} reaches {by:.3} mm past the cloth"),
            Breach::Zone { placement } => write!(f, "placement {placement} is outside its zone"),
            Breach::Match { placement, by } => write!(f, "stripes of placement {placement} lie {by:.3} mm off"),
            Breach::Overlap { first, second } => write!(f, "placements {first} and {second} overlap"),
            Breach::Job(fault) => fault.fmt(f),
        }
    }
}

/// Proves a layout sound, or lists every breach. Only `length` and `placements` are looked at.
pub fn check(job: &Job, layout: &Layout) -> Result<Proof, Vec<Breach>> {
    prove(job, layout.length, &layout.placements)
}

/// [`check`] on the parts of a layout that matter.
pub(super) fn prove(job: &Job, length: f64, placements: &[Placement]) -> Result<Proof, Vec<Breach>> {
    if let Some(fault) = job.fault() {
        return Err(vec![Breach::Job(fault)]);
    }
    let mut breaches = count(job, placements);
    if !breaches.is_empty() {
        return Err(breaches);
    }
    let drawn = job.pieces.iter().enumerate().map(|(i, piece)| drawn_in(i, piece, job.clearance));
    let drawn: Vec<Vec<Point>> = drawn.collect::<Result<_, _>>().map_err(|fault| vec![Breach::Job(fault)])?;
    for (i, placement) in placements.iter().enumerate() {
        breaches.extend(stray(job, length, i, placement));
    }
    breaches.extend(mismatches(job, placements));
    let shapes: Vec<Vec<Point>> =
        placements.iter().map(|p| drawn[p.piece].iter().map(|q| p.put(*q)).collect()).collect();
    let pairs = overlaps(&shapes, &mut breaches);
    if breaches.is_empty() { Ok(Proof { pairs, clearance: job.clearance }) } else { Err(breaches) }
}

/// Every copy asked for is there once, and no other.
fn count(job: &Job, placements: &[Placement]) -> Vec<Breach> {
    let mut times: Vec<Vec<usize>> = job.pieces.iter().map(|p| vec![0; p.how_many]).collect();
    let mut breaches = Vec::new();
    for p in placements {
        match times.get_mut(p.piece).and_then(|copies| copies.get_mut(p.copy)) {
            Some(times) => *times += 1,
            None => breaches.push(Breach::Count { piece: p.piece, copy: p.copy }),
        }
    }
    for (piece, copies) in times.iter().enumerate() {
        let wrong = copies.iter().enumerate().filter(|(_, times)| **times != 1);
        breaches.extend(wrong.map(|(copy, _)| Breach::Count { piece, copy }));
    }
    breaches
}

/// A piece's outline drawn in by half the clearance, anticlockwise. An eighth goes on leaving out points too near each other
/// to be drawn in, three eighths on the drawing in.
pub(super) fn drawn_in(i: usize, piece: &Piece, clearance: f64) -> Result<Vec<Point>, Fault> {
    let outline = geom::tidy(&piece.outline);
    let mut thinned: Vec<Point> = Vec::with_capacity(outline.len());
    for p in outline {
        if thinned.last().is_none_or(|last| last.distance(p) > clearance / 8.0) {
            thinned.push(p);
        }
    }
    geom::inset(&thinned, clearance * 3.0 / 8.0).map_err(|_| Fault::TooFine { piece: i })
}

/// What is wrong with a placement by itself.
fn stray(job: &Job, length: f64, i: usize, placement: &Placement) -> Vec<Breach> {
    let (piece, slack) = (&job.pieces[placement.piece], job.clearance / 2.0);
    let mut breaches = Vec::new();
    if !piece.turns.iter().any(|t| t == placement.turn) {
        breaches.push(Breach::Turned { placement: i });
    }
    let b = placement.bounds(job);
    let by = (-b.x0).max(-b.y0).max(b.x1 - length).max(b.y1 - job.strip.width);
    if !placement.at.is_finite() || !length.is_finite() || by > slack {
        breaches.push(Breach::Outside { placement: i, by });
    }
    if !in_zone(piece.zone, placement.turn, b, job.strip.width, slack) {
        breaches.push(Breach::Zone { placement: i });
    }
    breaches
}

/// Match points that lie off the stripes by more than half the clearance: across, from the lines of the cloth; along, from the first
/// match point.
fn mismatches(job: &Job, placements: &[Placement]) -> Vec<Breach> {
    let points: Vec<(usize, Point)> =
        placements.iter().enumerate().filter_map(|(i, p)| Some((i, p.put(job.pieces[p.piece].match_at?)))).collect();
    let Some((_, first)) = points.first().copied() else { return Vec::new() };
    let off = |far: f64, every: f64| far - (far / every).round() * every;
    let mut breaches = Vec::new();
    for (placement, at) in points {
        let along = job.repeat.along.map(|every| off(at.x - first.x, every));
        let across = job.repeat.across.map(|Lines { from, every }| off(at.y - from, every));
        let worst = along.into_iter().chain(across).max_by(|a, b| a.abs().total_cmp(&b.abs()));
        if let Some(by) = worst.filter(|by| by.abs() > job.clearance / 2.0) {
            breaches.push(Breach::Match { placement, by });
        }
    }
    breaches
}

fn in_zone(zone: Zone, turn: Turn, b: Rect, width: f64, slack: f64) -> bool {
    match (zone, turn) {
        (Zone::Anywhere, _) => true,
        (Zone::Band { from, to }, _) => b.y0 >= from - slack && b.y1 <= to + slack,
        (Zone::Selvedge, Turn::None) => b.y0.abs() <= slack,
        (Zone::Selvedge, Turn::Half) => (b.y1 - width).abs() <= slack,
        (Zone::Selvedge, _) => false,
    }
}

/// Adds every overlap and returns how many pairs had to be looked at.
fn overlaps(shapes: &[Vec<Point>], breaches: &mut Vec<Breach>) -> usize {
    let boxes: Vec<Rect> = shapes.iter().map(|s| geom::bounds(s)).collect();
    let mut pairs = 0;
    for second in 1..shapes.len() {
        for first in 0..second {
            let (a, b) = (boxes[first], boxes[second]);
            if a.x1 < b.x0 || b.x1 < a.x0 || a.y1 < b.y0 || b.y1 < a.y0 {
                continue;
            }
            pairs += 1;
            if !geom::apart(&shapes[first], &shapes[second]) {
                breaches.push(Breach::Overlap { first, second });
            }
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Vec2, rectangle};
    use crate::nest::job::Turns;

    fn layout(job: &Job, length: f64, at: &[(f64, f64)]) -> Result<Proof, Vec<Breach>> {
        let put = |(i, (x, y)): (usize, &(f64, f64))| Placement {
            piece: i.min(job.pieces.len() - 1),
            copy: i - i.min(job.pieces.len() - 1),
            turn: Turn::None,
            at: Vec2::new(*x, *y),
        };
        prove(job, length, &at.iter().enumerate().map(put).collect::<Vec<_>>())
    }

    fn squares(n: usize) -> Job {
        let square = Piece::new(rectangle(Rect::new(0., 0., 100., 100.)));
        Job::new(200.0, vec![Piece { how_many: n, ..square }])
    }

    #[test]
    fn edge_to_edge_passes_and_more_than_the_clearance_does_not() {
        let job = squares(2);
        assert_eq!(layout(&job, 100.0, &[(0., 0.), (0., 100.)]).map(|p| p.clearance), Ok(0.05));
        assert!(layout(&job, 100.0, &[(0., 0.), (0., 99.97)]).is_ok(), "within the clearance");
        assert_eq!(layout(&job, 100.0, &[(0., 0.), (0., 99.9)]), Err(vec![Breach::Overlap { first: 0, second: 1 }]));
        assert_eq!(layout(&job, 100.0, &[(0., 0.), (0., 0.)]), Err(vec![Breach::Overlap { first: 0, second: 1 }]));
    }

    #[test]
    fn outside_the_cloth_and_missing_copies() {
        let job = squares(2);
        let past = layout(&job, 100.0, &[(0., 0.), (0., 100.2)]);
        assert!(
            matches!(past.as_ref().map_err(Vec::as_slice), Err([Breach::Outside { placement: 1, by }]) if (by - 0.2).abs() < 1e-9)
        );
        assert!(matches!(
            layout(&job, 99.0, &[(0., 0.), (0., 100.0)]),
            Err(b) if b.len() == 2
        ));
        assert_eq!(layout(&job, 100.0, &[(0., 0.)]), Err(vec![Breach::Count { piece: 0, copy: 1 }]));
        let nan = layout(&job, 100.0, &[(0., 0.), (f64::NAN, 0.)]);
        assert!(nan.is_err());
    }

    #[test]
    fn turns_and_zones_are_held() {
        let mut job = squares(1);
        job.pieces[0].turns = Turns::ONE_WAY;
        let turned = Placement { piece: 0, copy: 0, turn: Turn::Half, at: Vec2::new(100., 100.) };
        assert_eq!(prove(&job, 100.0, &[turned]), Err(vec![Breach::Turned { placement: 0 }]));
        job.pieces[0].turns = Turns::GRAIN;
        assert!(prove(&job, 100.0, &[turned]).is_ok());
        job.pieces[0].zone = Zone::Selvedge;
        assert_eq!(prove(&job, 100.0, &[turned]), Err(vec![Breach::Zone { placement: 0 }]));
        let at_edge = Placement { at: Vec2::new(100., 200.), ..turned };
        assert!(prove(&job, 100.0, &[at_edge]).is_ok());
        job.pieces[0].zone = Zone::Band { from: 50.0, to: 200.0 };
        assert_eq!(prove(&job, 100.0, &[turned]), Err(vec![Breach::Zone { placement: 0 }]));
    }

    #[test]
    fn a_needle_finer_than_the_clearance_is_refused() {
        let needle = [(0., 0.), (10., 0.), (10., 10.), (5.0, 10.), (4.995, 30.), (4.99, 10.), (0., 10.)];
        let job = Job::new(200.0, vec![Piece::new(needle.map(Point::from).to_vec())]);
        let put = Placement { piece: 0, copy: 0, turn: Turn::None, at: Vec2::ZERO };
        assert_eq!(prove(&job, 10.0, &[put]), Err(vec![Breach::Job(Fault::TooFine { piece: 0 })]));
    }
}
