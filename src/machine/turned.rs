//! Turned parts to print: bobbin, brake whorl, pulleys. Section for the drawing, closed surface for the printer.
//!
//! Millimetres; the height axis is the shaft's.

use crate::machine::Refusal;
use crate::machine::shape::{self, mesh::Mesh};
use std::f64::consts::{PI, TAU};

/// Corners round a turned part.
pub const AROUND: usize = 120;

/// A shaft's hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bore {
    /// Round.
    Round { diameter: f64 },
    /// Round with a flat, for a motor shaft: `flat` is from the flat to the far side.
    Flat { diameter: f64, flat: f64 },
}

impl Bore {
    /// Diameter.
    pub fn diameter(self) -> f64 {
        match self {
            Bore::Round { diameter } | Bore::Flat { diameter, .. } => diameter,
        }
    }
    /// Distance from the axis at an angle.
    fn radius(self, angle: f64) -> f64 {
        match self {
            Bore::Round { diameter } => diameter / 2.0,
            Bore::Flat { diameter, flat } => {
                let (round, chord) = (diameter / 2.0, flat - diameter / 2.0);
                let along = libm::cos(angle);
                if along > 1e-9 { round.min(chord / along) } else { round }
            }
        }
    }
    fn check(self) -> Result<(), Refusal> {
        let d = self.diameter();
        let flat = match self {
            Bore::Flat { flat, .. } => flat,
            Bore::Round { .. } => d,
        };
        if (1.0..=60.0).contains(&d) && flat > d * 0.5 && flat <= d {
            return Ok(());
        }
        Err(Refusal::new(
            "spinner",
            format!("a bore of {d} mm with a flat at {flat} mm: 1 to 60 mm, the flat beyond the middle"),
        ))
    }
}

/// A turned part: its outer section `(radius, height)` from bottom to top, and its bore.
#[derive(Clone, Debug, PartialEq)]
pub struct Turned {
    pub name: &'static str,
    pub outer: Vec<[f64; 2]>,
    pub bore: Bore,
}

impl Turned {
    /// The closed surface.
    ///
    /// # Errors
    /// Walls thinner than nothing.
    pub fn mesh(&self) -> Result<Mesh, Refusal> {
        self.bore.check()?;
        let wall = self.outer.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min) - self.bore.diameter() / 2.0;
        if wall.is_nan() || wall < 1.2 {
            return Err(Refusal::new(
                "spinner",
                format!("the {} has a wall of {wall:.1} mm round its bore; 1.2 mm at least prints sound", self.name),
            ));
        }
        let ring = |p: &[f64; 2]| shape::circle([0.0, 0.0], p[0], AROUND).iter().map(|c| [c[0], c[1], p[1]]).collect();
        let hole = |z: f64| {
            (0..AROUND)
                .map(|i| TAU * i as f64 / AROUND as f64)
                .map(|a| [self.bore.radius(a) * libm::cos(a), self.bore.radius(a) * libm::sin(a), z])
                .collect()
        };
        let (bottom, top) = (self.outer[0][1], self.outer[self.outer.len() - 1][1]);
        let mut rings: Vec<Vec<[f64; 3]>> = self.outer.iter().map(ring).collect();
        rings.push(hole(top));
        rings.push(hole(bottom));
        Mesh::strung(&rings)
    }

    /// Volume of the section turned full circle, less the bore, mm³ (Pappus): what a perfect lathe would leave.
    pub fn volume(&self) -> f64 {
        let frusta: f64 = (self.outer.windows(2))
            .map(|w| {
                let ([r1, z1], [r2, z2]) = (w[0], w[1]);
                PI / 3.0 * (z2 - z1) * (r1 * r1 + r1 * r2 + r2 * r2)
            })
            .sum();
        frusta - self.bore_area() * self.height()
    }
    /// Height, mm.
    pub fn height(&self) -> f64 {
        self.outer[self.outer.len() - 1][1] - self.outer[0][1]
    }
    /// Largest radius, mm.
    pub fn reach(&self) -> f64 {
        self.outer.iter().map(|p| p[0]).fold(0.0, f64::max)
    }
    fn bore_area(&self) -> f64 {
        let r = self.bore.diameter() / 2.0;
        match self.bore {
            Bore::Round { .. } => PI * r * r,
            Bore::Flat { flat, .. } => {
                let half = libm::acos((flat - r) / r);
                PI * r * r - r * r * (half - libm::sin(half) * libm::cos(half))
            }
        }
    }
}

/// Sizes of the bobbin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BobbinSize {
    pub core: f64,
    pub flange: f64,
    /// Between the flanges.
    pub width: f64,
    pub flange_thick: f64,
    pub bore: f64,
    /// Groove of the brake's whorl at one end.
    pub brake_whorl: f64,
    /// Diameter of the cord in it.
    pub cord: f64,
}

/// The bobbin with its brake whorl below.
///
/// # Errors
/// A flange not larger than the core, or sizes that are none.
pub fn bobbin(size: &BobbinSize) -> Result<Turned, Refusal> {
    let BobbinSize { core, flange, width, flange_thick, bore, brake_whorl, cord } = *size;
    let sound = core >= bore + 2.4 && flange > core + 4.0 && flange <= 300.0 && (5.0..=400.0).contains(&width);
    if !(sound && (1.5..=20.0).contains(&flange_thick) && brake_whorl > bore + 2.4 && (0.5..=8.0).contains(&cord)) {
        return Err(Refusal::new(
            "bobbin",
            format!(
                "core {core}, flange {flange}, width {width} mm on a {bore} mm spindle: the core must leave 1.2 mm of wall, \
                 the flange stand 2 mm above it"
            ),
        ));
    }
    let mut outer = groove(brake_whorl, cord, 0.0);
    let z = outer[outer.len() - 1][1];
    let slope = ((flange - core) / 2.0 * 0.06).min(2.0);
    // Flanges lean in a little towards the rim so that yarn does not fall off, and print without a sharp overhang.
    outer.extend([
        [flange / 2.0, z],
        [flange / 2.0, z + flange_thick],
        [core / 2.0, z + flange_thick + slope],
        [core / 2.0, z + flange_thick + width - slope],
        [flange / 2.0, z + flange_thick + width],
        [flange / 2.0, z + 2.0 * flange_thick + width],
    ]);
    Ok(Turned { name: "bobbin", outer, bore: Bore::Round { diameter: bore } })
}

/// A groove for a round cord or belt: V of 40 degrees rounded to the belt; the cord's middle runs at `pitch`.
fn groove(pitch: f64, belt: f64, from: f64) -> Vec<[f64; 2]> {
    let bottom = (pitch - belt) / 2.0;
    let depth = 1.4 * belt;
    let rim = bottom + depth;
    let lip = (0.6 * belt).max(1.2);
    let half_open = belt * 0.5 + depth * libm::tan(20.0 * PI / 180.0);
    let middle = from + lip + half_open;
    vec![
        [rim, from],
        [rim, from + lip],
        [bottom, middle - belt * 0.25],
        [bottom, middle + belt * 0.25],
        [rim, middle + half_open],
        [rim, middle + half_open + lip],
    ]
}

/// A pulley or whorl whose belt runs at the pitch diameter, with a hub for a grub screw where there is room for one.
///
/// # Errors
/// A pitch diameter that leaves no wall round the bore.
pub fn pulley(name: &'static str, pitch: f64, belt: f64, bore: Bore) -> Result<Turned, Refusal> {
    let sound = (3.0..=600.0).contains(&pitch) && (0.5..=12.0).contains(&belt) && pitch - belt > bore.diameter() + 2.4;
    if !sound {
        return Err(Refusal::new(
            "pulleys",
            format!(
                "a pulley of {pitch} mm for a {belt} mm belt on a {} mm shaft: the groove's bottom must lie 1.2 mm outside the shaft",
                bore.diameter()
            ),
        ));
    }
    let mut outer = groove(pitch, belt, 0.0);
    let hub = bore.diameter() / 2.0 + 5.0;
    let z = outer[outer.len() - 1][1];
    if hub < outer[0][0] - 1.0 {
        outer.push([hub, z]);
        outer.push([hub, z + 8.0]);
    }
    let made = Turned { name, outer, bore };
    made.bore.check()?;
    Ok(made)
}

/// What a printer lays down for a part: mass in grams at a filling share (plastic 1.25 g/cm³, walls counted solid), and hours at
/// 10 cm³ an hour of plastic laid (common practice, no source).
pub fn print_effort(volume_mm3: f64, fill: f64) -> (f64, f64) {
    let laid = volume_mm3 / 1000.0 * (0.35 + 0.65 * fill.clamp(0.0, 1.0));
    (laid * 1.25, laid / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    pub(crate) fn tern_bay() -> BobbinSize {
        BobbinSize {
            core: 22.0,
            flange: 68.0,
            width: 80.0,
            flange_thick: 4.0,
            bore: 10.4,
            brake_whorl: 40.0,
            cord: 2.0,
        }
    }

    /// A turned mesh of n sides holds n sin(2π/n)/2π of the round part's volume, the bore likewise.
    fn sides_share() -> f64 {
        AROUND as f64 * libm::sin(TAU / AROUND as f64) / TAU
    }

    #[test]
    fn bobbin_is_closed_and_holds_its_volume() {
        let part = bobbin(&tern_bay()).unwrap();
        let proof = part.mesh().unwrap().prove().unwrap();
        assert_eq!(proof.handles, 1);
        let exact = part.volume() * sides_share();
        assert!((proof.volume - exact).abs() / exact < 1e-5, "{} {exact}", proof.volume);
        // Between the flanges there is room for the width asked, less the lean at the core.
        assert!((part.reach() - 34.0).abs() < 1e-9);
    }

    #[test]
    fn pulleys_are_closed_with_round_and_flat_bores() {
        for (bore, share) in [(Bore::Round { diameter: 10.0 }, 1e-5), (Bore::Flat { diameter: 3.17, flat: 2.6 }, 2e-3)]
        {
            let part = pulley("motor pulley", 18.0, 2.0, bore).unwrap();
            let proof = part.mesh().unwrap().prove().unwrap();
            let exact = part.volume() * sides_share();
            assert!((proof.volume - exact).abs() / exact < share, "{} {exact}", proof.volume);
        }
    }

    #[test]
    fn impossible_sizes_are_refused() {
        assert!(
            pulley("motor pulley", 8.0, 3.0, Bore::Round { diameter: 5.0 }).unwrap_err().to_string().contains("1.2 mm")
        );
        assert!(bobbin(&BobbinSize { flange: 20.0, ..tern_bay() }).is_err());
        assert!(bobbin(&BobbinSize { core: 11.0, ..tern_bay() }).is_err());
        let bad = pulley("p", 18.0, 2.0, Bore::Flat { diameter: 3.0, flat: 1.0 });
        assert!(bad.is_err());
        assert!(pulley("p", f64::NAN, 2.0, Bore::Round { diameter: 5.0 }).is_err());
    }
}
