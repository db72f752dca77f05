//! Strength and stiffness of woods at 12 % moisture, and of mild steel tube, each row with its source.
//!
//! Means of clear, straight-grained specimens: not design values. [`Timber::allowable`] divides them down. Bending stiffness
//! in these tables comes from span/depth 14:1 tests and already holds some shear bending (Wood Handbook, ch. 5).

use crate::formulas::registry::Evidence;
use crate::units::{Density, G_CM3, GPA, MPA, Q, Stress};

/// A wood or another beam material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timber {
    /// Plan word: "beech".
    pub name: &'static str,
    /// Oven-dry mass over volume at 12 % moisture.
    pub specific_gravity: f64,
    /// Modulus of rupture, MPa.
    pub rupture_mpa: f64,
    /// Modulus of elasticity, GPa.
    pub elasticity_gpa: f64,
    /// Shear parallel to the grain, MPa, where known.
    pub shear_mpa: Option<f64>,
    /// Compression across the grain at the proportional limit, MPa, where known.
    pub crush_across_mpa: Option<f64>,
    /// Steel and the like: no grain, no creep at bench loads.
    pub metal: bool,
    /// Who says so.
    pub source: &'static str,
    /// How it was come by.
    pub evidence: Evidence,
}

const HANDBOOK: &str = "Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, 12 % moisture";
const HANDBOOK_PSI: &str =
    "Wood Handbook Table 5-3b (psi, 12 % moisture), reprinted at synthmind.com, Tree Species Strength Properties";
const FLOOR: &str = "Wood Handbook Table 5-3a; 15 800 psi printed on a maple flooring property sheet (maplefloor.org)";

macro_rules! timber {
    ($name:literal, $sg:literal, $mor:literal, $moe:literal, $shear:expr, $across:expr, $source:expr, $how:ident) => {
        Timber {
            name: $name,
            specific_gravity: $sg,
            rupture_mpa: $mor,
            elasticity_gpa: $moe,
            shear_mpa: $shear,
            crush_across_mpa: $across,
            metal: false,
            source: $source,
            evidence: Evidence::$how,
        }
    };
}

/// Every row. Compression across the grain is from memory of the same table.
pub static TIMBERS: &[Timber] = &[
    timber!("beech", 0.64, 103.0, 11.9, Some(13.9), Some(7.0), HANDBOOK_PSI, Published),
    timber!("ash", 0.60, 103.0, 12.0, Some(13.2), Some(8.0), HANDBOOK_PSI, Published),
    timber!("yellow birch", 0.62, 114.0, 13.9, Some(13.0), Some(6.7), HANDBOOK_PSI, Published),
    timber!("paper birch", 0.55, 85.0, 11.0, None, Some(4.1), HANDBOOK_PSI, Published),
    timber!("sugar maple", 0.63, 109.0, 12.6, Some(16.1), Some(10.1), FLOOR, Published),
    timber!("red maple", 0.54, 92.0, 11.3, None, Some(6.9), HANDBOOK_PSI, Published),
    timber!("basswood", 0.37, 60.0, 10.1, None, Some(2.6), HANDBOOK_PSI, Published),
    timber!("red oak", 0.63, 99.0, 12.5, None, Some(7.0), HANDBOOK, Memory),
    timber!("white oak", 0.68, 105.0, 12.3, None, Some(7.4), HANDBOOK, Published),
    timber!("black cherry", 0.50, 85.0, 10.3, None, Some(4.8), HANDBOOK, Published),
    timber!("black walnut", 0.55, 101.0, 11.6, None, Some(7.0), HANDBOOK, Published),
    timber!("yellow poplar", 0.42, 70.0, 10.9, None, Some(3.4), HANDBOOK, Published),
    timber!("ponderosa pine", 0.40, 65.0, 8.9, Some(7.8), Some(4.0), HANDBOOK, Published),
    timber!("red pine", 0.46, 76.0, 11.2, Some(8.4), Some(4.1), HANDBOOK, Published),
    timber!("sugar pine", 0.36, 57.0, 8.2, Some(7.8), Some(3.4), HANDBOOK, Published),
    timber!("white pine", 0.35, 59.0, 8.5, None, Some(3.0), HANDBOOK, Memory),
    timber!("shortleaf pine", 0.51, 90.0, 12.1, None, Some(5.7), HANDBOOK, Published),
    timber!("sitka spruce", 0.40, 70.0, 10.8, None, Some(4.0), HANDBOOK, Memory),
    Timber {
        name: "steel tube",
        specific_gravity: 7.85,
        rupture_mpa: 235.0,
        elasticity_gpa: 205.0,
        shear_mpa: Some(136.0),
        crush_across_mpa: None,
        metal: true,
        source: "structural steel S235, EN 10025-2: yield 235 MPa; 205 GPa from memory",
        evidence: Evidence::Memory,
    },
];

/// Hardness of wood against a screw pressed sideways, N/mm²: up to this specific gravity, so much. Wood Handbook, Table 8-4;
/// beyond its last row that row stands.
const ACROSS_HARDWOOD: [(f64, f64); 3] = [(0.475, 23.17), (0.565, 31.99), (f64::INFINITY, 44.13)];
const ACROSS_SOFTWOOD: [(f64, f64); 3] = [(0.425, 23.17), (0.475, 29.79), (f64::INFINITY, 36.40)];

impl Timber {
    /// The row called `name`, in any case; "softwood", "pine" and "spruce" mean their weakest row, "maple" and "oak" the
    /// commoner one.
    pub fn find(name: &str) -> Option<&'static Timber> {
        let name = name.trim().to_lowercase();
        let name = match name.as_str() {
            "softwood" | "pine" => "sugar pine",
            "spruce" => "sitka spruce",
            "maple" => "sugar maple",
            "oak" => "red oak",
            "birch" => "yellow birch",
            "poplar" => "yellow poplar",
            "steel" => "steel tube",
            other => other,
        };
        TIMBERS.iter().find(|t| t.name == name)
    }
    /// Modulus of elasticity along the grain.
    pub fn elasticity(&self) -> Q<Stress> {
        Q::new(self.elasticity_gpa, &GPA)
    }
    /// Modulus of rigidity; about a sixteenth of E in wood (common practice, no source), E / 2.6 in steel.
    pub fn rigidity(&self) -> Q<Stress> {
        Q::new(self.elasticity_gpa / if self.metal { 2.6 } else { 16.0 }, &GPA)
    }
    /// Mass of a cubic metre at 12 % moisture: specific gravity counts dry mass, so the moisture is added.
    pub fn density(&self) -> Q<Density> {
        Q::new(self.specific_gravity * if self.metal { 1.0 } else { 1.12 }, &G_CM3)
    }
    /// Bending stress a frame may carry for years. Wood: the 5 % point of clear wood, mean × (1 − 1.645 × 0.16), over 2.1
    /// (ASTM D2555 and D245, from memory), and half of that again for the knots a home-bought board brings; about a sixth of
    /// the mean. Steel: two thirds of yield.
    pub fn allowable(&self) -> Q<Stress> {
        let share = if self.metal { 2.0 / 3.0 } else { (1.0 - 1.645 * 0.16) / 2.1 / 2.0 };
        Q::new(self.rupture_mpa * share, &MPA)
    }
    /// K of the load a screw carries across its length, K D².
    pub fn screw_across(&self) -> Q<Stress> {
        let softwood = ["pine", "spruce"].iter().any(|end| self.name.ends_with(end));
        let rows = if softwood { ACROSS_SOFTWOOD } else { ACROSS_HARDWOOD };
        let row = rows.iter().find(|(up_to, _)| self.specific_gravity < *up_to).unwrap_or(&rows[2]);
        Q::new(row.1, &MPA)
    }
    /// By what the first bending grows under load left on: 2 for wood (Wood Handbook ch. 5, from memory), 1 for steel.
    pub fn creep(&self) -> f64 {
        if self.metal { 1.0 } else { 2.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::PSI;

    /// Rows printed in psi, against the table in SI (Wood Handbook 5-3a/5-3b): half a unit of the last digit.
    #[test]
    fn psi_and_si_tables_agree() {
        let rows = [
            ("ash", 1.74, 12.0),
            ("beech", 1.72, 11.9),
            ("yellow birch", 2.01, 13.9),
            ("paper birch", 1.59, 11.0),
            ("red maple", 1.64, 11.3),
            ("basswood", 1.46, 10.1),
            ("sugar maple", 1.83, 12.6),
            ("white oak", 1.78, 12.3),
            ("black cherry", 1.49, 10.3),
            ("black walnut", 1.68, 11.6),
            ("yellow poplar", 1.58, 10.9),
        ];
        for (name, mega_psi, gpa) in rows {
            let row = Timber::find(name).unwrap();
            assert_eq!(row.elasticity_gpa, gpa, "{name}");
            assert!((Q::new(mega_psi * 1e6, &PSI).get(&GPA) - gpa).abs() <= 0.051, "{name}");
        }
        for (name, psi) in [("ash", 1910.0), ("beech", 2010.0), ("yellow birch", 1880.0)] {
            let shear = Timber::find(name).unwrap().shear_mpa.unwrap();
            assert!((Q::new(psi, &PSI).get(&MPA) - shear).abs() <= 0.051, "{name}");
        }
    }

    #[test]
    fn allowable_is_about_a_sixth_of_the_mean() {
        let maple = Timber::find("Sugar Maple").unwrap();
        // ASTM D245 on clear wood of 109 MPa and 16 % spread: 80.31 MPa the 5 % point, 38.24 over 2.1, here halved for knots.
        assert!((maple.allowable().get(&MPA) - 38.24 / 2.0).abs() < 0.01);
        assert!(Timber::find("bamboo").is_none());
    }
}
