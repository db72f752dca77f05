//! Where the pieces of a garment lie on striped cloth so that stripes run on across its seams. Each piece has a match point: its middle,
//! which the stripes along the cloth are set by, and a level, which the stripes across it are set by. Pieces sewn together along the warp
//! share their level. Millimetres. Knows no colours and no cloth.

use super::curve;
use super::piece::{Edge, EdgeRef, Garment, MarkKind, OnStripes, Piece, Seam};
use super::wish::{Stripe, Stripes};
use kurbo::{Point, Shape, Vec2};

/// The two sides of a seam may drift apart by so much along the warp and still show stripes that meet, mm.
const DRIFT: f64 = 2.0;

/// A piece whose match point lies so far from another's, both in their own terms: a pocket on the piece under it.
pub(super) struct Tied {
    pub piece: usize,
    pub to: usize,
    /// Added to a place of `to` this gives the same place of `piece`.
    pub by: Vec2,
    /// Across the warp as well; along it only, where false.
    pub both: bool,
}

/// The match point of a piece by itself: its centre line, else its middle, and its lower edge.
pub(super) fn alone(edges: &[Edge], marks: &[super::piece::Mark]) -> Option<OnStripes> {
    let bounds = curve::chained(edges.iter().map(|edge| &edge.path)).bounding_box();
    let centre = marks.iter().find(|mark| mark.kind == MarkKind::Centre);
    let x = centre.map_or(bounds.center().x, |mark| curve::start(&mark.path).x);
    Some(OnStripes { at: Point::new(x, bounds.y1), folded: false })
}

/// Gives pieces that meet along the warp one level, the first of them leading, and then those tied to another piece theirs.
pub(super) fn settle(pieces: &mut [Piece], seams: &[Seam], tied: &[Tied]) {
    let links: Vec<(EdgeRef, EdgeRef)> = seams.iter().filter_map(|seam| upright(pieces, seam)).collect();
    for (a, b) in &links {
        let (top, foot) = (run(pieces, *a), run(pieces, *b));
        if a.piece == b.piece
            && (top.0 - foot.0).abs() > DRIFT
            && let Some(on) = &mut pieces[a.piece].stripes
        {
            // it is folded upon itself: half-way between the two ends that meet
            *on = OnStripes { at: Point::new(on.at.x, (top.0 + foot.1) / 2.0), folded: true };
        }
    }
    let mut led = vec![false; pieces.len()];
    for first in 0..pieces.len() {
        let mut open = if led[first] { Vec::new() } else { vec![first] };
        led[first] = true;
        while let Some(at) = open.pop() {
            let Some(level) = pieces[at].stripes.map(|on| on.at.y) else { continue };
            for (a, b) in links.iter().flat_map(|&(a, b)| [(a, b), (b, a)]).filter(|(a, _)| a.piece == at) {
                if !std::mem::replace(&mut led[b.piece], true) {
                    let below = run(pieces, b).0 - run(pieces, a).0;
                    if let Some(on) = &mut pieces[b.piece].stripes {
                        on.at.y = level + below;
                    }
                    open.push(b.piece);
                }
            }
        }
    }
    for tie in tied {
        let (Some(to), Some(mut on)) = (pieces[tie.to].stripes, pieces[tie.piece].stripes) else { continue };
        on.at.y = to.at.y + tie.by.y;
        if tie.both {
            on.at.x = to.at.x + tie.by.x;
        }
        pieces[tie.piece].stripes = Some(on);
    }
}

/// The two edges of a seam that runs along the warp on both sides, equally far, between pieces that mind the stripes.
fn upright(pieces: &[Piece], seam: &Seam) -> Option<(EdgeRef, EdgeRef)> {
    let ([a], [b]) = (seam.a.as_slice(), seam.b.as_slice()) else { return None };
    let minds = |at: &EdgeRef| pieces[at.piece].stripes.is_some();
    let steep = |at: &EdgeRef| {
        let bounds = pieces[at.piece].edges[at.edge].path.bounding_box();
        bounds.height() > 2.0 * bounds.width()
    };
    let long = |at: &EdgeRef| {
        let (top, foot) = run(pieces, *at);
        foot - top
    };
    let all = minds(a) && minds(b) && steep(a) && steep(b) && (long(a) - long(b)).abs() <= DRIFT;
    all.then_some((*a, *b))
}

/// Where an edge begins and ends along the warp.
fn run(pieces: &[Piece], at: EdgeRef) -> (f64, f64) {
    let bounds = pieces[at.piece].edges[at.edge].path.bounding_box();
    (bounds.y0, bounds.y1)
}

/// Names of the seams across which stripes run on: those along the warp for stripes across the cloth, those across the warp for stripes
/// along it.
pub(super) fn meeting(garment: &Garment, stripes: Stripes) -> Vec<&str> {
    let level = |at: &EdgeRef| {
        let bounds = garment.pieces[at.piece].edges[at.edge].path.bounding_box();
        garment.pieces[at.piece].stripes.is_some() && bounds.width() > 2.0 * bounds.height()
    };
    let meets = |seam: &&Seam| {
        let other = seam.a.iter().zip(&seam.b).all(|(a, b)| a.piece != b.piece);
        let folded = |(a, _): (EdgeRef, EdgeRef)| garment.pieces[a.piece].stripes.is_some_and(|on| on.folded);
        let across = match (stripes.across_cloth, upright(&garment.pieces, seam)) {
            (Stripe::Even, Some(_)) => true,
            (Stripe::Uneven, Some(edges)) => !folded(edges),
            _ => false,
        };
        // where a front lies face to face with a back, one of the two is mirrored
        across || (stripes.along_cloth == Stripe::Even && other && seam.a.iter().chain(&seam.b).all(level))
    };
    garment.seams.iter().filter(meets).map(|seam| seam.name.as_str()).collect()
}
