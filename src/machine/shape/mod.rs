//! Shapes of parts: outlines with holes (for drawings, laser and router) and closed surfaces (for printing).
//!
//! Millimetres. Corners of an outline lie on a grid of a ten-thousandth of a millimetre, so that triangles are found by whole
//! numbers without rounding, and no two corners fall together in the 32-bit numbers of an STL file.

pub mod mesh;
mod triangulate;

use crate::machine::Refusal;

/// Corners of one closed curve, mm; the last joins the first.
pub type Ring = Vec<[f64; 2]>;

/// A flat part: an outer edge and holes.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outline {
    pub outer: Ring,
    pub holes: Vec<Ring>,
}

/// Grid steps a millimetre.
const GRID: f64 = 10_000.0;
/// Most corners in one outline: triangles are found in time that grows as its square.
pub const MOST_CORNERS: usize = 12_000;

/// Twice the signed area, positive when the corners run anticlockwise (y up).
fn double_area(ring: &[[f64; 2]]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum()
}

impl Outline {
    /// An outline without holes.
    pub fn solid(outer: Ring) -> Self {
        Outline { outer, holes: Vec::new() }
    }
    /// Area of the material, mm².
    pub fn area(&self) -> f64 {
        (double_area(&self.outer).abs() - self.holes.iter().map(|h| double_area(h).abs()).sum::<f64>()) / 2.0
    }
    /// Least and greatest corner.
    pub fn bounds(&self) -> ([f64; 2], [f64; 2]) {
        let start = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        self.outer.iter().fold(start, |(low, high), p| {
            ([low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])])
        })
    }
    /// The outline moved.
    pub fn moved(&self, by: [f64; 2]) -> Self {
        let shift = |ring: &Ring| ring.iter().map(|p| [p[0] + by[0], p[1] + by[1]]).collect();
        Outline { outer: shift(&self.outer), holes: self.holes.iter().map(shift).collect() }
    }
    /// Corners on the grid, doubles dropped, outer edge anticlockwise, holes clockwise.
    fn tidy(&self) -> Result<Outline, Refusal> {
        let outer = tidy_ring(&self.outer, true)?;
        let holes = self.holes.iter().map(|h| tidy_ring(h, false)).collect::<Result<Vec<_>, _>>()?;
        let corners = outer.len() + holes.iter().map(Vec::len).sum::<usize>();
        if corners > MOST_CORNERS {
            return Err(Refusal::new("shape", format!("{corners} corners in one part; at most {MOST_CORNERS}")));
        }
        Ok(Outline { outer, holes })
    }
}

fn tidy_ring(ring: &Ring, anticlockwise: bool) -> Result<Ring, Refusal> {
    let bad = |words: &str| Err(Refusal::new("shape", words));
    if ring.iter().flatten().any(|x| x.is_nan() || x.abs() >= 1e5) {
        return bad("a corner is not a number or lies more than 100 m away");
    }
    let mut out: Ring = Vec::with_capacity(ring.len());
    for p in ring {
        let p = p.map(|x| (x * GRID).round() / GRID);
        if out.last() != Some(&p) {
            out.push(p);
        }
    }
    while out.len() > 1 && out.first() == out.last() {
        out.pop();
    }
    if out.len() < 3 || double_area(&out).abs() < 1e-6 {
        return bad("an edge closes on no area");
    }
    if (double_area(&out) > 0.0) != anticlockwise {
        out.reverse();
    }
    Ok(out)
}

/// A circle of `corners` corners, anticlockwise.
pub fn circle(centre: [f64; 2], radius: f64, corners: usize) -> Ring {
    arc(centre, radius, 0.0, std::f64::consts::TAU, corners, false)
}

/// Corners on an arc from one angle to another (radians, anticlockwise from x); the end is left out unless `closed_end`.
pub fn arc(centre: [f64; 2], radius: f64, from: f64, to: f64, corners: usize, closed_end: bool) -> Ring {
    let last = if closed_end { corners.saturating_sub(1) } else { corners }.max(1);
    let point = |i: usize| {
        let angle = from + (to - from) * i as f64 / last as f64;
        [centre[0] + radius * libm::cos(angle), centre[1] + radius * libm::sin(angle)]
    };
    (0..corners).map(point).collect()
}

/// A rectangle with rounded corners, `corners` to each quarter.
pub fn rounded(low: [f64; 2], high: [f64; 2], radius: f64, corners: usize) -> Ring {
    let radius = radius.min((high[0] - low[0]) / 2.0).min((high[1] - low[1]) / 2.0).max(0.0);
    let quarter = std::f64::consts::FRAC_PI_2;
    let centres = [
        [high[0] - radius, low[1] + radius],
        [high[0] - radius, high[1] - radius],
        [low[0] + radius, high[1] - radius],
        [low[0] + radius, low[1] + radius],
    ];
    (centres.iter().enumerate())
        .flat_map(|(i, c)| arc(*c, radius, (i as f64 - 1.0) * quarter, i as f64 * quarter, corners.max(2), true))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas() {
        let plate =
            Outline { outer: rounded([0.0, 0.0], [20.0, 10.0], 0.0, 2), holes: vec![circle([5.0, 5.0], 2.0, 64)] };
        let disc = 0.5 * 64.0 * 4.0 * libm::sin(std::f64::consts::TAU / 64.0);
        assert!((plate.area() - (200.0 - disc)).abs() < 1e-9);
        assert_eq!(plate.bounds(), ([0.0, 0.0], [20.0, 10.0]));
    }
    #[test]
    fn nonsense_is_refused() {
        assert!(Outline::solid(vec![[0.0, 0.0], [1.0, f64::NAN], [1.0, 1.0]]).tidy().is_err());
        assert!(Outline::solid(vec![[0.0, 0.0], [1.0, 0.0], [2.0, 0.0]]).tidy().is_err());
    }
}
