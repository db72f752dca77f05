//! Where everything lies. All lengths in millimetres, x along the cloth, y across it.

use super::job::{Job, Turn};
use crate::geom::{self, Point, Rect, Vec2};

/// One copy of a piece on the cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Its place in [`Job::pieces`].
    pub piece: usize,
    /// Which copy, from 0.
    pub copy: usize,
    pub turn: Turn,
    /// Where the outline's own origin comes to lie once turned.
    pub at: Vec2,
}

impl Placement {
    /// A point of the piece's outline, on the cloth.
    pub fn put(&self, p: Point) -> Point {
        (self.turn.apply(p.to_vec2()) + self.at).to_point()
    }

    /// The piece's outline, on the cloth.
    pub fn outline(&self, job: &Job) -> Vec<Point> {
        job.pieces[self.piece].outline.iter().map(|p| self.put(*p)).collect()
    }

    /// The upright rectangle it takes up on the cloth.
    pub fn bounds(&self, job: &Job) -> Rect {
        geom::bounds(&self.outline(job))
    }
}

/// A proof that a layout is sound: see [`super::check`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// Pairs of pieces whose boxes meet, each shown to be clear of the other.
    pub pairs: usize,
    /// What was overlooked, mm: no piece reaches further past the selvedge, no two further into each other.
    pub clearance: f64,
}

/// A shorter layout found after so many evaluations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    pub evaluations: u64,
    /// mm.
    pub length: f64,
}

/// A finished, proved layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Cloth taken along the warp, mm.
    pub length: f64,
    /// In order of piece and copy.
    pub placements: Vec<Placement>,
    /// Share of length times width that is pieces, 0 to 1.
    pub used: f64,
    pub proved: Proof,
    /// The caller's `stop` ended the search before its budget; another run may differ.
    pub stopped_early: bool,
    /// Each shorter layout as it was found, the first by the bottom-left rule.
    pub trail: Vec<Found>,
}
