//! Needle, stitch and thread. Millimetres. A seam's stitched length is counted by how often the needle runs along it; thread
//! by the published share of a lockstitch, not by the lower bound that leaves out its interlacing.

use super::piece::{Cloth, Finish, Garment, Use};
use super::wish::SeamKind;
use crate::units::{AreaMass, G_M2, Length, MM, Q};

/// Thread, needle and bobbin together, for one length of lockstitch: published 2.5 for medium cloth (`melgeecrafts`), textbook 2.5 to 2.8
/// with waste.
pub const THREAD_SHARE: (f64, f64, f64) = (2.5, 2.65, 2.8);
/// Stitch length, mm (`melgeecrafts`: 10 to the inch).
pub const STITCH: f64 = 2.5;
/// Width of the overcasting zigzag, mm.
const ZIGZAG: f64 = 4.0;

/// Caution at the machine.
pub const NEEDLE: &str = "Fingers clear of the needle; foot off the pedal when you thread it or change it. Pull pins out before the foot reaches them.";
/// Caution at the iron.
pub const IRON: &str = "The iron burns skin and cloth: test the heat on a scrap, stand it on its heel.";

/// A needle by the blade's hundredths of a millimetre, and what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Needle {
    /// Metric number: 80 is 0.80 mm.
    pub number: u32,
    /// The old number beside it.
    pub old: u32,
}

/// The needle for a cloth: 70 for blouse weights, 80 for shirt and suit weights, 90 and 100 for heavy ones. The sizes are
/// published by garment (a needle table); where one weight ends and the next begins is common practice.
pub fn needle(mass: Q<AreaMass>) -> Needle {
    match mass.get(&G_M2) {
        m if m < 110.0 => Needle { number: 70, old: 10 },
        m if m < 250.0 => Needle { number: 80, old: 12 },
        m if m < 400.0 => Needle { number: 90, old: 14 },
        _ => Needle { number: 100, old: 16 },
    }
}

/// Stitched lengths of one garment, mm.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Stitching {
    /// Seams, once each.
    pub seams: f64,
    /// Hems, once each.
    pub hems: f64,
    /// Lockstitch in all: seams by their kind, hems, inner lines, one line round every piece.
    pub lockstitch: f64,
    /// Overcasting of cut edges.
    pub overcast: f64,
}

impl Stitching {
    /// Thread for it: least, middle, greatest.
    pub fn thread(&self) -> (Q<Length>, Q<Length>, Q<Length>) {
        let slant = (ZIGZAG * ZIGZAG + STITCH * STITCH).sqrt() / STITCH;
        let all = self.lockstitch + slant * self.overcast;
        let (low, mid, high) = THREAD_SHARE;
        (Q::new(low * all, &MM), Q::new(mid * all, &MM), Q::new(high * all, &MM))
    }
}

/// How often the needle runs along a seam, and whether its edges stay raw.
fn runs(kind: SeamKind) -> (f64, bool) {
    match kind {
        SeamKind::Plain => (1.0, true),
        SeamKind::Felled | SeamKind::French | SeamKind::Lapped => (2.0, false),
    }
}

/// Counts the stitching of a garment.
pub fn count(garment: &Garment) -> Stitching {
    let mut sum = Stitching::default();
    for seam in &garment.seams {
        let (a, b) = garment.seam_lengths(seam);
        let long = 0.5 * (a + b) * f64::from(seam.times);
        sum.seams += long;
        sum.lockstitch += long * runs(seam.kind).0;
    }
    for hem in &garment.hems {
        let long = garment.hem_length(hem) * f64::from(hem.times);
        sum.hems += long;
        sum.lockstitch += long;
    }
    sum.lockstitch += garment.inner_stitching;
    for piece in &garment.pieces {
        let many = f64::from(piece.how_many);
        for edge in &piece.edges {
            let cut = edge.finish == Finish::Cut;
            // The line stitched round before cutting.
            if cut && piece.cloth == Cloth::Main {
                sum.lockstitch += many * edge.length();
            }
            let raw = match edge.use_ {
                Use::Seam(i) => garment.seams.get(i).is_none_or(|s| runs(s.kind).1),
                Use::Hem => false,
                Use::Plain => true,
            };
            if cut && raw {
                sum.overcast += many * edge.length();
            }
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published (`melgeecrafts`): 220 cm of lockstitch take 550 cm of thread.
    #[test]
    fn thread_of_220_cm_of_seam() {
        let sum = Stitching { lockstitch: 2200.0, ..Stitching::default() };
        let (low, mid, high) = sum.thread();
        assert!((low.get(&MM) - 5500.0).abs() < 1e-9);
        assert!(mid > low && high > mid);
    }

    /// Published needle table: shirts and blouses 65 to 75, suits 80 to 90, coats 100 to 110.
    #[test]
    fn needles_rise_with_the_cloth() {
        let numbers = [90.0, 185.0, 300.0, 500.0].map(|m| needle(Q::new(m, &G_M2)).number);
        assert_eq!(numbers, [70, 80, 90, 100]);
    }
}
