//! The weaver's body against the loom: height of seat and warp, reach to heddle and edges.
//!
//! British adults of 19 to 65 years, 5th, 50th and 95th percentiles, mm: popliteal height and sitting elbow height from S.
//! Pheasant, Bodyspace, as reprinted by the online anthropometry pages of the City University of Hong Kong, chapter 2, nos. 11
//! and 16. Functional reach and thigh clearance: MIL-STD-1472G, Appendix B, as printed in NUREG-0700 rev. 3, Table 11.4.

/// Whose body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sitter {
    /// Floor to the hollow of the knee, in shoes.
    pub seat: f64,
    /// Seat to elbow.
    pub elbow: f64,
    /// Wall behind the shoulders to the tip of the finger.
    pub reach: f64,
    /// Seat to the top of the thigh.
    pub thigh: f64,
}

/// Heel of a shoe, mm: added to popliteal heights, which are taken barefoot (common practice, no source).
pub const SHOE: f64 = 25.0;
/// Sitting elbow height: women 5 %, 50 %, 95 %; men 5 %, 50 %, 95 %.
pub const ELBOW_MM: [[f64; 3]; 2] = [[185.0, 235.0, 280.0], [195.0, 245.0, 295.0]];
/// Popliteal height, the same order.
pub const POPLITEAL_MM: [[f64; 3]; 2] = [[355.0, 400.0, 445.0], [395.0, 440.0, 490.0]];
/// Functional reach, woman of the 5th and man of the 95th percentile.
pub const REACH_MM: [f64; 2] = [677.0, 886.0];
/// Thigh clearance above the seat, the same two.
pub const THIGH_MM: [f64; 2] = [141.0, 186.0];
/// Shoulders against the wall to the front of the belly (from memory; ANSUR II abdominal depth, means 220 to 260).
const BELLY: f64 = 250.0;

impl Default for Sitter {
    /// Whoever comes: the middle of women's and men's medians in height, the shortest reach, the thickest thigh.
    fn default() -> Self {
        Sitter {
            seat: (POPLITEAL_MM[0][1] + POPLITEAL_MM[1][1]) / 2.0 + SHOE,
            elbow: (ELBOW_MM[0][1] + ELBOW_MM[1][1]) / 2.0,
            reach: REACH_MM[0],
            thigh: THIGH_MM[1],
        }
    }
}

impl Sitter {
    /// Height of the warp: at the elbow, to the nearest 5 mm.
    pub fn elbow_height(&self) -> f64 {
        ((self.seat + self.elbow) / 5.0).round() * 5.0
    }
    /// How far in front of the belly a hand works.
    pub fn forward(&self) -> f64 {
        self.reach - BELLY
    }
    /// Seat that brings this elbow to a warp height.
    pub fn seat_for(&self, warp: f64) -> f64 {
        warp - self.elbow
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_sitter() {
        let s = Sitter::default();
        assert_eq!((s.seat, s.elbow, s.elbow_height()), (445.0, 240.0, 685.0));
        assert!(s.forward() > 400.0);
    }
}
