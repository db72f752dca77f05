//! What a cloth looks like, in plain numbers: everything its picture needs and nothing of how it was worked out. Lengths are
//! millimetres. The path of a bent yarn is Peirce's: an arc about each thread it crosses and a straight line between.

use crate::weave::{ColourOrder, Drawdown};

/// Which way a yarn is twisted: its fibres lie as the middle stroke of the letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    S,
    Z,
}

/// One yarn, lying in the cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct YarnLook {
    /// Width seen from above, 0.01 to 20 mm.
    pub diameter: f64,
    /// Height ÷ width: 1 is round, 0.3 the flattest drawn.
    pub flatten: f64,
    /// Turns per metre of the single, 0 to 5 000.
    pub twist: f64,
    /// Hand of the single.
    pub hand: Hand,
    /// Singles in the yarn, 1 to 6.
    pub plies: u8,
    /// Turns per metre of the plies about each other, of the other hand. Not used for a single.
    pub ply_twist: f64,
    /// Spread of the diameter along the yarn: standard deviation ÷ mean, 0 to 0.5.
    pub unevenness: f64,
    /// Fibre ends that stand out, per mm of yarn, 0 to 30.
    pub hairs: f64,
    /// Their mean length, 0 to 10 mm.
    pub hair_length: f64,
    /// 0 dull (wool, carded cotton) to 1 shining (line flax, silk).
    pub lustre: f64,
}

impl YarnLook {
    /// A hand-spun cotton single; hairs, unevenness and lustre are this project's choice after looking at many.
    pub fn cotton(diameter: f64, twist: f64, hand: Hand) -> Self {
        let (flatten, unevenness, hairs, hair_length, lustre) = (1.0, 0.11, 1.2, 0.8, 0.22);
        YarnLook { diameter, flatten, twist, hand, plies: 1, ply_twist: 0.0, unevenness, hairs, hair_length, lustre }
    }
}

/// A cloth, lying flat.
#[derive(Clone, Debug)]
pub struct ClothLook {
    pub warp: YarnLook,
    pub weft: YarnLook,
    /// Middle to middle of neighbouring ends, mm.
    pub end_spacing: f64,
    /// Middle to middle of neighbouring picks, mm.
    pub pick_spacing: f64,
    /// Crimp height of the warp, crest to trough of its axis, mm.
    pub warp_height: f64,
    /// Crimp height of the weft, mm. In Peirce's cloth the two make `D`, the sum of the diameters.
    pub weft_height: f64,
    /// The block of crossings that repeats.
    pub drawdown: Drawdown,
    /// sRGB of the colours the orders name.
    pub colours: Vec<[u8; 3]>,
    pub warp_order: ColourOrder,
    pub weft_order: ColourOrder,
    /// How far threads stray from their places: standard deviation ÷ spacing, 0 to 0.3.
    pub straying: f64,
    /// All chance in the picture comes from this.
    pub seed: u64,
}

/// Why there can be no picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unseen(pub String);

impl std::fmt::Display for Unseen {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}
impl std::error::Error for Unseen {}

impl ClothLook {
    /// Refuses numbers outside the ranges above and those that are none.
    pub fn check(&self) -> Result<(), Unseen> {
        for (yarn, which) in [(&self.warp, "warp"), (&self.weft, "weft")] {
            within(yarn.diameter, 0.01, 20.0, which, "diameter in mm")?;
            within(yarn.flatten, 0.3, 1.0, which, "height to width")?;
            within(yarn.twist, 0.0, 5000.0, which, "twist per m")?;
            within(yarn.ply_twist, 0.0, 5000.0, which, "ply twist per m")?;
            within(f64::from(yarn.plies), 1.0, 6.0, which, "plies")?;
            within(yarn.unevenness, 0.0, 0.5, which, "unevenness")?;
            within(yarn.hairs, 0.0, 30.0, which, "hairs per mm")?;
            within(yarn.hair_length, 0.0, 10.0, which, "hair length in mm")?;
            within(yarn.lustre, 0.0, 1.0, which, "lustre")?;
        }
        within(self.end_spacing, 0.02, 50.0, "end", "spacing in mm")?;
        within(self.pick_spacing, 0.02, 50.0, "pick", "spacing in mm")?;
        within(self.warp_height, 0.0, 40.0, "warp", "crimp height in mm")?;
        within(self.weft_height, 0.0, 40.0, "weft", "crimp height in mm")?;
        within(self.straying, 0.0, 0.3, "thread", "straying")?;
        for order in [&self.warp_order, &self.weft_order] {
            if order.runs().iter().any(|r| r.colour >= self.colours.len()) {
                return Err(Unseen("the order of colours names one that is not in the list".into()));
            }
        }
        Ok(())
    }

    /// The cloth turned over sideways.
    pub fn turned(&self) -> Self {
        let mut back = self.clone();
        back.drawdown = self.drawdown.turned();
        let runs: Vec<_> = self.warp_order.runs().iter().rev().copied().collect();
        back.warp_order = ColourOrder::new(runs).unwrap_or_else(|_| self.warp_order.clone());
        back
    }

    /// Sum of the yarns' heights, Peirce's `D`, mm.
    pub fn sum_of_diameters(&self) -> f64 {
        self.warp.diameter * self.warp.flatten + self.weft.diameter * self.weft.flatten
    }
    /// Path of an end between two picks it passes on different sides.
    pub fn warp_path(&self) -> Path {
        Path::new(self.pick_spacing, self.warp_height, self.sum_of_diameters())
    }
    /// Path of a pick between two ends it passes on different sides.
    pub fn weft_path(&self) -> Path {
        Path::new(self.end_spacing, self.weft_height, self.sum_of_diameters())
    }
    /// Greatest height from the lowest to the highest yarn surface, mm.
    pub fn thickness(&self) -> f64 {
        let warp = self.warp_height + self.warp.diameter * self.warp.flatten;
        let weft = self.weft_height + self.weft.diameter * self.weft.flatten;
        warp.max(weft)
    }
    /// Share of the area that no yarn covers, if threads were straight and even: (1 − d1/p1)(1 − d2/p2).
    pub fn open_area(&self) -> f64 {
        let gap = |d: f64, p: f64| (1.0 - d / p).max(0.0);
        gap(self.warp.diameter, self.end_spacing) * gap(self.weft.diameter, self.pick_spacing)
    }
}

fn within(value: f64, least: f64, most: f64, which: &str, what: &str) -> Result<(), Unseen> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(Unseen(format!("the {which} {what} is {value}; a picture takes {least} to {most}")))
}

/// The middle line of a yarn from the crest over one thread to the trough under the next: an arc of radius `D/2`, a straight
/// line at the weave angle, an arc. Peirce 1937, T45.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Path {
    /// Distance between the two threads crossed, mm.
    pub spacing: f64,
    /// Crest to trough, mm.
    pub height: f64,
    /// Sum of the diameters, mm.
    pub sum: f64,
    /// Greatest slope against the plane of the cloth, radians.
    pub angle: f64,
}

impl Path {
    /// Solved for the weave angle; where the threads have no room for the height (jammed) the straight part is nothing.
    pub fn new(spacing: f64, height: f64, sum: f64) -> Self {
        let room = spacing * spacing + height * height - 2.0 * sum * height;
        let angle = libm::atan2(sum, room.max(0.0).sqrt()) - libm::atan2(sum - height, spacing);
        Path { spacing, height, sum, angle: angle.max(0.0) }
    }
    /// Whether the threads leave no room for the height asked.
    pub fn jammed(&self) -> bool {
        self.spacing * self.spacing + self.height * self.height < 2.0 * self.sum * self.height
    }
    /// Length of the middle line, mm.
    pub fn length(&self) -> f64 {
        (self.spacing - self.sum * libm::sin(self.angle)) / libm::cos(self.angle) + self.sum * self.angle
    }
    /// Length over spacing, less one.
    pub fn crimp(&self) -> f64 {
        self.length() / self.spacing - 1.0
    }
    /// Height of the middle line above the cloth's middle at `x` mm from the crest, and its slope there; 0 ≤ x ≤ spacing.
    pub fn at(&self, x: f64) -> (f64, f64) {
        if x > self.spacing / 2.0 {
            let (z, slope) = self.at(self.spacing - x);
            return (-z, slope);
        }
        let radius = self.sum / 2.0;
        let arc = radius * libm::sin(self.angle);
        if x < arc {
            let rise = (radius * radius - x * x).max(0.0).sqrt();
            (self.height / 2.0 - radius + rise, -x / rise.max(1e-9))
        } else {
            let slope = libm::tan(self.angle);
            // Between the end of the arc and the middle, where the height is 0 by symmetry.
            (slope * (self.spacing / 2.0 - x), -slope)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Jammed square plain cloth (Peirce; Balasubramanian's notes; GATE 2009 Q54): θ 60°, p/D 0.866, c 0.2092.
    #[test]
    fn a_jammed_square_cloth() {
        let path = Path::new(0.75f64.sqrt(), 0.5, 1.0);
        assert!((path.angle.to_degrees() - 60.0).abs() < 1e-4, "{}", path.angle.to_degrees());
        assert!((path.crimp() - 0.2092).abs() < 5e-5, "{}", path.crimp());
    }

    /// GATE 2007 Q85: 36s (1/168 in) both ways at 28 /cm square has 10 % crimp by the 4/3 rule; the exact geometry gives 9.8 % at 28.3°.
    #[test]
    fn the_square_cloth_of_36s() {
        let path = Path::new(10.0 / 28.0, 25.4 / 168.0, 2.0 * 25.4 / 168.0);
        assert!((path.crimp() - 0.098).abs() < 5e-5, "{}", path.crimp());
        assert!((path.angle.to_degrees() - 28.3).abs() < 0.05, "{}", path.angle.to_degrees());
    }

    /// Exact heights for a crimp, computed for D = 1 from Peirce's equations: p 1.5, c 5 % has h 0.4628.
    #[test]
    fn height_and_crimp_agree() {
        for (p, c, h) in [(1.2, 0.02, 0.2342), (1.2, 0.05, 0.3664), (1.5, 0.05, 0.4628), (2.0, 0.10, 0.8826)] {
            assert!((Path::new(p, h, 1.0).crimp() - c).abs() < 5e-5, "{p} {c}");
        }
    }

    #[test]
    fn the_line_is_smooth_and_goes_from_crest_to_trough() {
        let path = Path::new(0.77, 0.27, 0.54);
        assert_eq!(path.at(0.0).0, 0.135);
        assert!((path.at(0.77).0 + 0.135).abs() < 1e-12);
        for i in 0..1000 {
            let (a, b) = (path.at(0.77 * f64::from(i) / 1000.0), path.at(0.77 * f64::from(i + 1) / 1000.0));
            assert!((a.0 - b.0).abs() < 0.77e-3 * 0.8 && (a.1 - b.1).abs() < 0.02, "{i} {a:?} {b:?}");
        }
    }

    #[test]
    fn jammed_beyond_reach_still_has_a_path() {
        let path = Path::new(0.2, 0.5, 1.0);
        assert!(path.jammed() && path.angle.is_finite() && path.at(0.1).0.is_finite());
    }
}
