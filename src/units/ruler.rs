//! Lengths as a workshop writes them: on a drawing, in a cutting list, in a step to build by.
//!
//! Machines are worked out in millimetres; every sheet of theirs prints its lengths through here, so that a plan in inches is
//! built with an inch rule. Knows two styles and no plan.

use super::show::Style;

/// Millimetres in an inch.
const INCH: f64 = 25.4;

/// The rule a maker measures with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ruler(pub Style);

impl Ruler {
    /// Its unit: `mm` or `in`.
    pub fn unit(self) -> &'static str {
        self.of("mm", "in")
    }
    /// The first in millimetres, the second in inches.
    pub fn of<T>(self, metric: T, inch: T) -> T {
        match self.0 {
            Style::Metric => metric,
            Style::Inch => inch,
        }
    }
    /// A length of `mm` millimetres without its unit: whole millimetres, tenths below 20; inches to the nearest sixteenth, or
    /// as a decimal below one inch where it is no sixteenth (a belt).
    pub fn bare(self, mm: f64) -> String {
        self.of(millimetres(mm), inches(mm))
    }
    /// As [`Ruler::bare`] with the unit.
    pub fn says(self, mm: f64) -> String {
        format!("{} {}", self.bare(mm), self.unit())
    }
    /// A small length where hundredths count, without its unit: 0.01 mm, or 0.001 in.
    pub fn fine(self, mm: f64) -> String {
        self.of(format!("{mm:.2}"), format!("{:.3}", mm / INCH))
    }
    /// As [`Ruler::fine`] with the unit.
    pub fn says_fine(self, mm: f64) -> String {
        format!("{} {}", self.fine(mm), self.unit())
    }
    /// A size that need not be exact, with the unit: always a whole sixteenth in inches, at least one.
    pub fn about(self, mm: f64) -> String {
        let sixteenths = (mm / INCH * 16.0).round().max(1.0) as i64;
        format!("{} {}", self.of(millimetres(mm), fraction(sixteenths)), self.unit())
    }
    /// How many come to one centimetre, or to one inch.
    pub fn per(self, per_cm: f64) -> f64 {
        self.of(per_cm, per_cm * INCH / 10.0)
    }
    /// What [`Ruler::per`] counts over.
    pub fn each(self) -> &'static str {
        self.of("a centimetre", "an inch")
    }
    /// What a drawing says of its lengths.
    pub fn said(self) -> &'static str {
        self.of("Millimetres.", "Inches, to the nearest sixteenth.")
    }
}

/// Whole millimetres, tenths below 20.
fn millimetres(mm: f64) -> String {
    if mm.abs() < 20.0 && (mm - mm.round()).abs() > 0.05 { format!("{mm:.1}") } else { format!("{mm:.0}") }
}

/// Inches to the nearest sixteenth, as a rule has them; below one inch as a decimal where it is no sixteenth.
fn inches(mm: f64) -> String {
    let inches = mm / INCH;
    let sixteenths = (inches * 16.0).round();
    if inches.abs() < 1.0 && (inches * 16.0 - sixteenths).abs() > 0.05 {
        return format!("{inches:.2}");
    }
    fraction(sixteenths as i64)
}

/// `26 5/16` of 421 sixteenths.
fn fraction(sixteenths: i64) -> String {
    let sign = if sixteenths < 0 { "−" } else { "" };
    let (whole, mut part, mut of) = (sixteenths.abs() / 16, sixteenths.abs() % 16, 16);
    while part != 0 && part % 2 == 0 {
        (part, of) = (part / 2, of / 2);
    }
    match (whole, part) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, part) => format!("{sign}{part}/{of}"),
        (whole, part) => format!("{sign}{whole} {part}/{of}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const METRIC: Ruler = Ruler(Style::Metric);
    const BY_INCH: Ruler = Ruler(Style::Inch);

    #[test]
    fn lengths_as_a_workshop_writes_them() {
        assert_eq!([12.25, 12.0, 170.4].map(|mm| METRIC.bare(mm)), ["12.2", "12", "170"]);
        assert_eq!([25.4, 668.0, 38.1, 18.0].map(|mm| BY_INCH.bare(mm)), ["1", "26 5/16", "1 1/2", "0.71"]);
        assert_eq!((METRIC.says_fine(3.084), BY_INCH.says_fine(3.084)), ("3.08 mm".into(), "0.121 in".to_string()));
        assert_eq!([2.0, 12.0, 0.2].map(|mm| BY_INCH.about(mm)), ["1/16 in", "1/2 in", "1/16 in"]);
        assert_eq!(BY_INCH.says(-44.0), "−1 3/4 in");
        assert!((BY_INCH.per(12.97) - 32.94).abs() < 0.01);
    }
}
