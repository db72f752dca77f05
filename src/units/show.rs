//! Quantities back to text, in the units and the number of digits a person can use.
//!
//! Every view prints through here, so that a length reads the same on a sheet, in a terminal and in the browser. Knows two
//! styles, metric and inch, and for each unit its neighbour in the other; knows no outcome and no plan.

use super::{AnyUnit, Kind, Q, Scale, Unit};

/// Which units a person thinks in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Style {
    #[default]
    Metric,
    Inch,
}

/// Thousands are parted from here on: `9999`, `10 000`.
const GROUPED_FROM: f64 = 10_000.0;
/// A sixteenth of an inch is as fine as a rule is read; where it would be off by more than this share, decimals stand.
const FRACTION_SLACK: f64 = 0.01;

/// Units of the two styles that stand for one another.
const PAIRS: &[(&str, &str)] = &[
    ("cm", "in"),
    ("mm", "in"),
    ("m", "yd"),
    ("km", "yd"),
    ("cm", "ft"),
    ("m2", "yd2"),
    ("kg", "lb"),
    ("g", "oz"),
    ("tex", "yd/lb"),
    ("tex", "Ne"),
    ("/cm", "/in"),
    ("/m", "/in"),
    ("/10cm", "/in"),
    ("alpha_tex", "TM"),
    ("g/m2", "oz/yd2"),
    ("N", "lbf"),
    ("cN", "gf"),
    ("MPa", "psi"),
    ("m/h", "yd/h"),
    ("°C", "°F"),
    ("°C-d", "DD60"),
    ("g/h", "lb/d"),
];
/// Units that both styles use and neither changes, though they stand in [`PAIRS`].
const SHARED: &[(&str, Style)] =
    &[("cN", Style::Inch), ("g/h", Style::Inch), ("TM", Style::Metric), ("Ne", Style::Inch)];

/// The same quantity in a unit of `style`: `cm` in inch style is `in`, `oz` in metric style is `g`. Units that both styles
/// use stay as they are.
pub fn counterpart(unit: AnyUnit, style: Style) -> AnyUnit {
    if SHARED.contains(&(unit.name, style)) {
        return unit;
    }
    let other = PAIRS.iter().find_map(|(metric, inch)| match style {
        Style::Inch if *metric == unit.name => Some(*inch),
        Style::Metric if *inch == unit.name => Some(*metric),
        _ => None,
    });
    let same_kind = |kind: &&Kind| kind.units().contains(&unit);
    other
        .and_then(|name| Kind::ALL.iter().find(same_kind)?.units().iter().find(|u| u.name == name))
        .copied()
        .unwrap_or(unit)
}

/// The unit to print a quantity of `kind` in when nothing closer is known.
pub fn preferred(kind: Kind, style: Style) -> AnyUnit {
    let metric = match kind {
        Kind::Ratio => "%",
        Kind::Length => "cm",
        Kind::Volume => "ml",
        Kind::Mass => "g",
        Kind::LinearDensity => "tex",
        Kind::TwistFactor => "TM",
        Kind::Angle => "deg",
        Kind::Force => "N",
        Kind::Duration => "h",
        Kind::HeatSum => "°C-d",
        _ => kind.units()[0].name,
    };
    let unit = kind.units().iter().find(|u| u.name == metric).copied().unwrap_or(kind.units()[0]);
    counterpart(unit, style)
}

/// A quantity of `si` SI units in `unit`, or in its counterpart if `unit` is of the other style: `59.3 cm`, `23 3/8 in`.
pub fn quantity(si: f64, unit: &AnyUnit, style: Style) -> String {
    let unit = counterpart(*unit, style);
    with_unit(&in_unit(si, unit), unit)
}

/// As [`quantity`], for a typed quantity.
pub fn of<D>(quantity_of: Q<D>, unit: &Unit<D>, style: Style) -> String {
    quantity(quantity_of.to_si(), &AnyUnit { name: unit.name, scale: unit.scale }, style)
}

/// A range, the smaller number first: `3.9–5.8 km`.
pub fn range(low: f64, high: f64, unit: &AnyUnit, style: Style) -> String {
    let unit = counterpart(*unit, style);
    // A finer count is a larger number: the ends change places.
    let (low, high) = if matches!(unit.scale, Scale::Inverse(_)) { (high, low) } else { (low, high) };
    let (a, b) = (in_unit(low, unit), in_unit(high, unit));
    if a == b { with_unit(&a, unit) } else { with_unit(&format!("{a}–{b}"), unit) }
}

/// A quantity of `kind` in the unit of `style` that suits its size: millimetres, centimetres, metres.
pub fn natural(si: f64, kind: Kind, style: Style) -> String {
    let by_size: &[(f64, &str)] = match (kind, style) {
        (Kind::Length, Style::Metric) => &[(1e-4, "um"), (0.1, "mm"), (3.0, "cm"), (3000.0, "m"), (f64::MAX, "km")],
        (Kind::Length, Style::Inch) => &[(1e-4, "um"), (2.0, "in"), (f64::MAX, "yd")],
        (Kind::Mass, Style::Metric) => &[(1e-3, "mg"), (2.0, "g"), (f64::MAX, "kg")],
        (Kind::Mass, Style::Inch) => &[(0.9, "oz"), (f64::MAX, "lb")],
        (Kind::Force, Style::Metric) => &[(1.0, "cN"), (f64::MAX, "N")],
        (Kind::Duration, _) => &[(90.0, "s"), (5400.0, "min"), (f64::MAX, "h")],
        (Kind::Current, _) => &[(0.1, "mA"), (f64::MAX, "A")],
        _ => &[],
    };
    let name = by_size.iter().find(|(below, _)| si.abs() < *below).map(|(_, name)| *name);
    let unit = kind.units().iter().find(|u| Some(u.name) == name).copied().unwrap_or(preferred(kind, style));
    with_unit(&in_unit(si, unit), unit)
}

/// A number with the digits a maker can use: three, four from a thousand on, no idle noughts.
pub fn number(value: f64) -> String {
    if !value.is_finite() {
        return String::from("?");
    }
    let digits = if value.abs() >= 1000.0 { 4 } else { 3 };
    rounded(value, digits)
}

/// A number rounded to `digits` significant digits, without idle noughts, thousands parted by a narrow blank from 10 000 on.
pub fn rounded(value: f64, digits: usize) -> String {
    let scientific = format!("{:.*e}", digits.saturating_sub(1), value.abs());
    let exponent: i32 = scientific.split_once('e').and_then(|(_, e)| e.parse().ok()).unwrap_or(0);
    let near: f64 = scientific.parse().unwrap_or(0.0);
    let decimals = (digits as i32 - 1 - exponent).clamp(0, 15) as usize;
    let mut text = format!("{near:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if near >= GROUPED_FROM {
        text = grouped(&text);
    }
    if value < 0.0 && text != "0" { format!("−{text}") } else { text }
}

/// Thousands parted by U+202F.
fn grouped(whole: &str) -> String {
    let mut out = String::new();
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(c);
    }
    out
}

fn in_unit(si: f64, unit: AnyUnit) -> String {
    let value = unit.scale.from_si(si);
    if unit.name == "in" { inches(value) } else { number(value) }
}

/// Inches as a rule shows them, to the sixteenth below a foot and the eighth above, where that is near enough.
fn inches(value: f64) -> String {
    if !value.is_finite() {
        return number(value);
    }
    let parts = if value.abs() < 12.0 { 16.0 } else { 8.0 };
    let near = (value.abs() * parts).round() / parts;
    if (near - value.abs()).abs() > FRACTION_SLACK * value.abs() || near > 10_000.0 {
        return number(value);
    }
    let (whole, mut part, mut over) = (near.floor(), ((near - near.floor()) * parts) as u32, parts as u32);
    while part > 0 && part.is_multiple_of(2) {
        (part, over) = (part / 2, over / 2);
    }
    let text = match (whole as u32, part) {
        (whole, 0) => whole.to_string(),
        (0, part) => format!("{part}/{over}"),
        (whole, part) => format!("{whole} {part}/{over}"),
    };
    if value < 0.0 && near > 0.0 { format!("−{text}") } else { text }
}

fn with_unit(number: &str, unit: AnyUnit) -> String {
    if unit.name.is_empty() { number.to_string() } else { format!("{number} {}", unit.name) }
}

#[cfg(test)]
mod tests {
    use super::super::*;
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn digits_a_maker_can_use() {
        for (value, text) in [
            (0.0, "0"),
            (52.137, "52.1"),
            (0.26987, "0.27"),
            (99.96, "100"),
            (999.6, "1000"),
            (1097.3, "1097"),
            (5437.2, "5437"),
            (54_372.0, "54\u{202f}370"),
            (-3.0, "−3"),
            (-1e-30, "0"),
            (3.0, "3"),
            (f64::NAN, "?"),
        ] {
            assert_eq!(number(value), text);
        }
    }

    #[test]
    fn both_styles() {
        assert_eq!(of(Q::new(59.3, &CM), &CM, Style::Metric), "59.3 cm");
        assert_eq!(of(Q::new(59.3, &CM), &CM, Style::Inch), "23 3/8 in");
        assert_eq!(of(Q::new(9.5, &INCH), &INCH, Style::Inch), "9 1/2 in");
        assert_eq!(of(Q::new(0.27, &MM), &MM, Style::Inch), "0.0106 in");
        assert_eq!(of(Q::new(52.1, &TEX), &TEX, Style::Inch), "9521 yd/lb");
        assert_eq!(of(Q::new(12.0, &NE), &NE, Style::Inch), "12 Ne");
        assert_eq!(of(Q::new(12.0, &NE), &NE, Style::Metric), "49.2 tex");
        assert_eq!(of(Q::new(185.0, &G_M2), &G_M2, Style::Inch), "5.46 oz/yd2");
        assert_eq!(of(Q::new(0.7, &ONE), &PERCENT, Style::Inch), "70 %");
        assert_eq!(of(Q::new(908.0, &EACH), &EACH, Style::Metric), "908");
        assert_eq!(of(Q::new(20.0, &DEG_C), &DEG_C, Style::Inch), "68 °F");
    }

    #[test]
    fn ranges_and_sizes() {
        let km = Kind::Length.units().iter().find(|u| u.name == "km").unwrap();
        assert_eq!(range(3900.0, 5800.0, km, Style::Metric), "3.9–5.8 km");
        let ne = Kind::LinearDensity.units().iter().find(|u| u.name == "Ne").unwrap();
        assert_eq!(range(Q::new(12.0, &NE).to_si(), Q::new(10.0, &NE).to_si(), ne, Style::Inch), "10–12 Ne");
        assert_eq!(natural(0.00027, Kind::Length, Style::Metric), "0.27 mm");
        assert_eq!(natural(0.593, Kind::Length, Style::Metric), "59.3 cm");
        assert_eq!(natural(5437.0, Kind::Length, Style::Metric), "5.44 km");
        assert_eq!(natural(1.097, Kind::Mass, Style::Metric), "1097 g");
        assert_eq!(natural(0.27, Kind::Force, Style::Metric), "27 cN");
    }

    #[test]
    fn every_kind_has_its_unit_in_both_styles() {
        for kind in Kind::ALL {
            for style in [Style::Metric, Style::Inch] {
                assert!(kind.units().contains(&preferred(*kind, style)), "{kind:?}");
            }
        }
        for (metric, inch) in PAIRS {
            let shared = |k: &&Kind| [metric, inch].iter().all(|name| k.units().iter().any(|u| u.name == **name));
            assert!(Kind::ALL.iter().any(|k| shared(&k)), "{metric} and {inch} are of no one kind");
        }
    }

    proptest! {
        #[test]
        fn what_is_shown_reads_back(value in 0.02f64..5e5, which in 0usize..500, inch in any::<bool>()) {
            let all: Vec<_> = Kind::ALL.iter().flat_map(|k| k.units().iter().map(move |u| (*k, *u))).collect();
            let (kind, unit) = all[which % all.len()];
            let style = if inch { Style::Inch } else { Style::Metric };
            let si = unit.scale.to_si(value);
            let text = quantity(si, &unit, style);
            prop_assume!(!text.starts_with('−') && !text.contains("0.00000"));
            let back = text::read(&text, &[kind]).map_err(|fault| TestCaseError::fail(format!("{text}: {fault}")))?;
            let slack = if text.ends_with(" in") { 0.011 } else { 0.006 };
            let wide = (back.middle - si).abs() <= slack * si.abs();
            prop_assert!(wide, "{value} {} became {text}, which is {} and not {si}", unit.name, back.middle);
        }
    }
}
