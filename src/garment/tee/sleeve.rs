//! Armhole and sleeve cap as curves whose lengths agree because they are solved for each other. Millimetres, y down. The
//! sleeve lies with the middle of its cap at the origin, the front half to the right.

use super::super::curve;
use super::super::rules;
use super::Torso;
use kurbo::{BezPath, Point, Vec2};

/// Front or back: how far the armhole is hollowed and the cap is filled.
#[derive(Clone, Copy, Debug)]
struct Shape {
    /// Length of the armhole's handle at the shoulder, as a share of its height.
    down: f64,
    /// Length of its handle at the underarm beyond its run, as a share of its height.
    out: f64,
    /// Handles of the cap at its top and at the underarm, as shares of its half width.
    crown: f64,
    foot: f64,
}

const FRONT: Shape = Shape { down: 0.46, out: 0.17, crown: 0.42, foot: 0.50 };
const BACK: Shape = Shape { down: 0.40, out: 0.13, crown: 0.46, foot: 0.44 };

/// The armhole from the end of the shoulder seam to the underarm: square to the shoulder seam and to the side seam.
fn armhole(torso: &Torso, underarm: f64, shape: Shape) -> BezPath {
    let tip = torso.tip;
    let end = Point::new(torso.quarter, underarm);
    let high = underarm - tip.y;
    let square = Vec2::new(-torso.slope, 1.0) / (1.0 + torso.slope * torso.slope).sqrt();
    let run = end.x - tip.x;
    let level = Vec2::new(0.62 * run + shape.out * high, 0.0);
    curve::cubic(tip, tip + square * (shape.down * high), end - level, end)
}

/// Half a cap from its top to the underarm, `wide` across and `high`, square to an underarm seam that leans in by `lean`.
fn half_cap(wide: f64, high: f64, lean: f64, shape: Shape) -> BezPath {
    let end = Point::new(wide, high);
    let square = Vec2::new(1.0, lean) / (1.0 + lean * lean).sqrt();
    curve::cubic(Point::ZERO, Point::new(shape.crown * wide, 0.0), end - square * (shape.foot * wide), end)
}

/// Half width at which the half cap is as long as its armhole.
fn half_width(length: f64, high: f64, lean: f64, shape: Shape) -> Option<f64> {
    curve::root(0.05 * length, 1.2 * length, 1e-7, |wide| curve::length(&half_cap(wide, high, lean, shape)) - length)
}

/// Armholes and the sleeve that fits them.
#[derive(Clone, Debug)]
pub(in super::super) struct Sleeve {
    pub armhole_front: BezPath,
    pub armhole_back: BezPath,
    /// Level of the underarm on the body.
    pub underarm: f64,
    pub cap_front: BezPath,
    pub cap_back: BezPath,
    pub cap: f64,
    /// Round the sleeve at the underarm.
    pub girth: f64,
}

/// A cap of one height over armholes of one depth.
struct Trial<'a> {
    torso: &'a Torso,
    lean: f64,
}

impl Trial<'_> {
    fn armholes(&self, underarm: f64) -> (BezPath, BezPath) {
        (armhole(self.torso, underarm, FRONT), armhole(self.torso, underarm, BACK))
    }
    /// Half widths, front and back, of a cap `share` of the mean armhole high.
    fn widths(&self, front: f64, back: f64, share: f64) -> Option<(f64, f64)> {
        let high = share * 0.5 * (front + back);
        Some((half_width(front, high, self.lean, FRONT)?, half_width(back, high, self.lean, BACK)?))
    }
    fn girth(&self, underarm: f64, share: f64) -> f64 {
        let (front, back) = self.armholes(underarm);
        self.widths(curve::length(&front), curve::length(&back), share).map_or(f64::NAN, |(f, b)| f + b)
    }
}

/// The sleeve for an arm and its ease on a body whose underarm would best lie at `underarm` and may be lowered to `lowest`.
/// A wide arm first flattens the cap and then lowers the armhole; a thin one leaves the sleeve wider than asked. `None`
/// when the arm does not go in at all.
pub(in super::super) fn solve(torso: &Torso, underarm: f64, lowest: f64, girth: f64, lean: f64) -> Option<Sleeve> {
    let trial = Trial { torso, lean };
    let (flat, steep) = rules::CAP_SHARE;
    let (mut underarm, mut share) = (underarm, flat);
    if trial.girth(underarm, flat) < girth {
        underarm = curve::root(underarm, lowest, 1e-7, |y| trial.girth(y, flat) - girth)?;
    } else if trial.girth(underarm, steep) > girth {
        share = steep;
    } else {
        share = curve::root(flat, steep, 1e-10, |share| trial.girth(underarm, share) - girth)?;
    }
    let (front, back) = trial.armholes(underarm);
    let (long_front, long_back) = (curve::length(&front), curve::length(&back));
    let cap = share * 0.5 * (long_front + long_back);
    let (wide_front, wide_back) = trial.widths(long_front, long_back, share)?;
    Some(Sleeve {
        armhole_front: front,
        armhole_back: back,
        underarm,
        cap_front: half_cap(wide_front, cap, lean, FRONT),
        cap_back: curve::mirrored(&half_cap(wide_back, cap, lean, BACK)),
        cap,
        girth: wide_front + wide_back,
    })
}

/// The right half of a sleeve hem, from the seam to the middle: level at the middle, square to an underarm seam that leans
/// in, so `drop` lower there, as on any cone; `half` wide, its middle at `level`.
pub(in super::super) fn half_hem(half: f64, level: f64, lean: f64, drop: f64) -> BezPath {
    let bend = if lean > 1e-9 { half - drop / lean } else { 0.5 * half };
    let end = Point::new(half, level + drop);
    let mut path = BezPath::new();
    path.move_to(end);
    path.quad_to(Point::new(bend, level), Point::new(0.0, level));
    path
}
