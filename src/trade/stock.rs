//! What a timber yard and a parts shop sell: nominal against actual board sizes, dowels, tubes, lengths, saw kerfs.

use crate::units::ruler::Ruler;
use crate::units::show::Style;
use crate::units::{INCH, Length, MM, Q};

/// A board section as sold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// What it is called in the shop: "1x4".
    pub name: &'static str,
    /// True thickness, mm.
    pub thick: f64,
    /// True width, mm.
    pub wide: f64,
    /// Sold in this system of sizes.
    pub system: System,
    /// Who says so.
    pub source: &'static str,
}

/// Which shelves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// Named by the inch size before drying and planing.
    Inch,
    /// Named by the true size in millimetres.
    Metric,
}

impl System {
    /// The rule its sizes are measured with.
    pub fn ruler(self) -> Ruler {
        Ruler(match self {
            System::Inch => Style::Inch,
            System::Metric => Style::Metric,
        })
    }
}

const PS20: &str = "PS 20 American Softwood Lumber Standard, dry dressed (table at engineeringtoolbox d_1270)";
const METRIC: &str = "common practice, no source: planed boards by true size";

const fn inch(name: &'static str, thick: f64, wide: f64) -> Section {
    Section { name, thick: thick * 25.4, wide: wide * 25.4, system: System::Inch, source: PS20 }
}
const fn metric(name: &'static str, thick: f64, wide: f64) -> Section {
    Section { name, thick, wide, system: System::Metric, source: METRIC }
}

/// Board sections, thin to thick, narrow to wide.
pub static SECTIONS: &[Section] = &[
    inch("1x2", 0.75, 1.5),
    inch("1x3", 0.75, 2.5),
    inch("1x4", 0.75, 3.5),
    inch("1x6", 0.75, 5.5),
    inch("1x8", 0.75, 7.25),
    inch("1x10", 0.75, 9.25),
    inch("1x12", 0.75, 11.25),
    inch("5/4x4", 1.0, 3.5),
    inch("5/4x6", 1.0, 5.5),
    inch("2x2", 1.5, 1.5),
    inch("2x3", 1.5, 2.5),
    inch("2x4", 1.5, 3.5),
    inch("2x6", 1.5, 5.5),
    metric("18x44", 18.0, 44.0),
    metric("18x69", 18.0, 69.0),
    metric("18x94", 18.0, 94.0),
    metric("18x144", 18.0, 144.0),
    metric("27x44", 27.0, 44.0),
    metric("27x69", 27.0, 69.0),
    metric("27x94", 27.0, 94.0),
    metric("27x144", 27.0, 144.0),
    metric("44x44", 44.0, 44.0),
    metric("44x69", 44.0, 69.0),
    metric("44x94", 44.0, 94.0),
];

/// Round rod sold, mm: metric steps and inch steps (from memory; measure before drilling: rods are undersize and oval).
pub static DOWELS_METRIC_MM: &[f64] =
    &[6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0];
/// Round rod by the inch: in sixteenths.
pub static DOWELS_INCH_16THS: &[u32] = &[4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32];

/// Lengths on the shelf, mm: boards metric, boards inch (8, 10, 12 ft), rods metric, rods inch (36, 48 in).
pub static LENGTHS_METRIC_MM: &[f64] = &[2100.0, 2400.0, 3000.0];
/// Board lengths in feet.
pub static LENGTHS_FEET: &[f64] = &[8.0, 10.0, 12.0];
/// Rod lengths in metres and inches.
pub static ROD_METRIC_MM: &[f64] = &[1000.0, 2000.0];
/// Rod lengths in inches.
pub static ROD_INCHES: &[f64] = &[36.0, 48.0];

/// Saw kerf by saw, mm: full and thin table-saw blades (saw.coach table-saw kerf table: 1/8 in and 3/32 in), band saw
/// (0.020-0.035 in), hand saw (from memory).
pub static KERFS_MM: &[(&str, f64)] =
    &[("table saw", 3.175), ("thin blade", 2.381), ("band saw", 0.9), ("hand saw", 1.0)];

impl Section {
    /// The section called `name` in any case, with × read as x.
    pub fn find(name: &str) -> Option<&'static Section> {
        let name = name.trim().to_lowercase().replace(['×', '*'], "x").replace(' ', "");
        SECTIONS.iter().find(|s| s.name == name)
    }
    /// Smallest section of `system` at least `thick` by `wide`, by area.
    pub fn at_least(system: System, thick: Q<Length>, wide: Q<Length>) -> Option<&'static Section> {
        let (t, w) = (thick.get(&MM) - 0.5, wide.get(&MM) - 0.5);
        SECTIONS
            .iter()
            .filter(|s| s.system == system && s.thick >= t && s.wide >= w)
            .min_by(|a, b| (a.thick * a.wide).total_cmp(&(b.thick * b.wide)))
    }
    /// Name with the true size: "1x4 (3/4 x 3 1/2 in)".
    pub fn words(&self, ruler: Ruler) -> String {
        match self.system {
            System::Inch => format!("{} ({} x {})", self.name, ruler.bare(self.thick), ruler.says(self.wide)),
            System::Metric => format!("{} x {}", ruler.bare(self.thick), ruler.says(self.wide)),
        }
    }
}

/// Smallest rod sold of at least this diameter.
pub fn rod_at_least(system: System, diameter: Q<Length>) -> Option<Q<Length>> {
    let sold: Vec<Q<Length>> = match system {
        System::Metric => DOWELS_METRIC_MM.iter().map(|d| Q::new(*d, &MM)).collect(),
        System::Inch => DOWELS_INCH_16THS.iter().map(|d| Q::new(f64::from(*d) / 16.0, &INCH)).collect(),
    };
    sold.into_iter().find(|d| d.get(&MM) >= diameter.get(&MM) - 0.3)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// PS 20: 1x is 19.05 mm, 2x 38.1; widths 88.9, 139.7, 184.15, 234.95, 285.75.
    #[test]
    fn printed_sizes() {
        let widths =
            [("1x4", 88.9), ("1x6", 139.7), ("1x8", 184.15), ("1x10", 234.95), ("1x12", 285.75), ("2x4", 88.9)];
        for (name, mm) in widths {
            let s = Section::find(name).unwrap();
            assert!((s.wide - mm).abs() < 1e-9, "{name} {}", s.wide);
        }
        assert!((Section::find("2×4").unwrap().thick - 38.1).abs() < 1e-9);
        assert!((Section::find("1x4").unwrap().thick - 19.05).abs() < 1e-9);
    }

    #[test]
    fn smallest_that_will_do() {
        let s = Section::at_least(System::Inch, Q::new(19.0, &MM), Q::new(80.0, &MM)).unwrap();
        assert_eq!(s.name, "1x4");
        assert_eq!(rod_at_least(System::Metric, Q::new(41.0, &MM)).unwrap().get(&MM), 45.0);
        assert!(rod_at_least(System::Metric, Q::new(400.0, &MM)).is_none());
    }
}
