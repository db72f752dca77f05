//! What is read, what is refused, and what is offered instead.

use super::super::*;
use super::spelling::find_unit;
use super::{Fault, Reading, Stated, Strand, quantity, read};
use proptest::prelude::*;

fn mm(text: &str) -> f64 {
    quantity::<Length>(text).unwrap_or_else(|fault| panic!("{text}: {fault}")).middle.get(&MM)
}
fn count(text: &str) -> Reading {
    read(text, &[Kind::LinearDensity]).unwrap_or_else(|fault| panic!("{text}: {fault}"))
}
fn fault(text: &str, kinds: &[Kind]) -> Fault {
    read(text, kinds).err().unwrap_or_else(|| panic!("{text} was taken"))
}
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * b.abs().max(1e-9)
}

#[test]
fn lengths_as_people_write_them() {
    for (text, value) in [
        ("27 mm", 27.0),
        ("27mm", 27.0),
        ("2.7 cm", 27.0),
        (".5 m", 500.0),
        ("1e-1 m", 100.0),
        ("9 1/2 in", 241.3),
        ("9-1/2 in", 241.3),
        ("9½ in", 241.3),
        ("¾ in", 19.05),
        ("1/2 in", 12.7),
        ("9 1/2\"", 241.3),
        ("5 ft 6 in", 1676.4),
        ("5' 6 1/2\"", 1689.1),
        ("2 yards", 1828.8),
        ("1 200 mm", 1200.0),
        ("12 345 678 um", 12345.678),
        ("30 µm", 0.03),
        ("  66   cm  ", 660.0),
        ("6 feet", 1828.8),
        ("-0 mm", 0.0),
    ] {
        assert!(near(mm(text), value), "{text} is {} mm", mm(text));
    }
}

#[test]
fn every_yarn_count_is_the_same_yarn() {
    // 20 tex in each system; the factors are those of the trade (reference C01, C02).
    for text in ["20 tex", "200 dtex", "20000 mtex", "0.02 ktex", "180 den", "29.527 Ne", "50 Nm", "50 m/g", "50 km/kg"]
    {
        assert!((count(text).middle * 1e6 - 20.0).abs() < 1e-3, "{text} is {}", count(text).middle * 1e6);
    }
    for (text, tex) in [("1 Ne", 590.54), ("1 NeW", 885.8), ("1 NeL", 1653.5), ("1 run", 310.03), ("1 YSW", 1937.7)] {
        assert!((count(text).middle * 1e6 / tex - 1.0).abs() < 1e-4, "{text}");
    }
    assert!((count("3360 yd/lb").middle * 1e6 - 147.6).abs() < 0.1);
}

#[test]
fn folded_counts_say_which_strand() {
    for text in ["20/2 Ne", "2/20 Ne", "20 Ne x2", "20 Ne x 2", "20 Ne × 2"] {
        let folded = count(text);
        assert_eq!((folded.strand, folded.plies), (Strand::Single, Some(2)), "{text}");
        assert!((folded.number() - 20.0).abs() < 1e-9, "{text}");
    }
    let folded = count("20 tex x2 (18..23)");
    assert_eq!((folded.strand, folded.plies), (Strand::Single, Some(2)));
    assert!(near(folded.low, 18e-6) && near(folded.high, 23e-6));
    for text in ["R 40 tex", "R40 tex", "40 tex"] {
        assert_eq!((count(text).strand, count(text).plies), (Strand::Woven, None), "{text}");
    }
    assert_eq!((count("R 40 tex/2").strand, count("R 40 tex/2").plies), (Strand::Woven, Some(2)));
    assert_eq!(fault("20/2 tex", &[Kind::LinearDensity]).near.as_deref(), Some("20 tex x2"));
    assert_eq!(fault("40 tex/2", &[Kind::LinearDensity]).near.as_deref(), Some("40 tex x2"));
    assert_eq!(fault("20/2 Ne x2", &[Kind::LinearDensity]).code, "not-a-quantity");
    assert_eq!(fault("840/400 Ne", &[Kind::LinearDensity]).code, "absurd-magnitude");
    assert!((count("9 1/2 Ne").number() - 9.5).abs() < 1e-12);
}

#[test]
fn twist_in_all_its_forms() {
    let kinds = [Kind::PerLength, Kind::TwistFactor];
    let of = |text| read(text, &kinds).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    assert!(near(of("820 /m").middle, 820.0));
    assert!(near(of("21 /in").middle, 21.0 / 0.0254));
    assert!(near(of("21 tpi").middle, 21.0 / 0.0254));
    assert!(near(of("8.2 turns per cm").middle, 820.0));
    assert_eq!(of("4.2 TM").kind, Kind::TwistFactor);
    assert!((of("4.2 TM").middle / of("40.18 alpha_tex").middle - 1.0).abs() < 1e-3);
    assert_eq!(of("4.2 tm").unit.name, "TM");
    assert_eq!(of("12 ends per inch").unit.name, "/in");
}

#[test]
fn doubts() {
    let staple: Stated<Length> = quantity("27 ± 2 mm").unwrap();
    assert!(near(staple.low.get(&MM), 25.0) && near(staple.high.get(&MM), 29.0) && staple.is_doubted());
    for text in [
        "27 +- 2 mm",
        "27 +/- 2 mm",
        "27±2mm",
        "27 mm ± 2 mm",
        "27 mm ± 2",
        "27 mm ± 0.2 cm",
        "27 mm (25..29)",
        "27 mm (25 .. 29 mm)",
    ] {
        let same: Stated<Length> = quantity(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        assert!(near(same.low.get(&MM), 25.0) && near(same.high.get(&MM), 29.0), "{text}: {same:?}");
    }
    let keeps: Stated<Ratio> = quantity("60 % (40..75)").unwrap();
    assert!(near(keeps.low.to_si(), 0.4) && near(keeps.high.to_si(), 0.75));
    let points: Stated<Ratio> = quantity("8 ± 2 %").unwrap();
    assert!(near(points.low.to_si(), 0.06) && near(points.high.to_si(), 0.10));
    let share: Stated<Mass> = quantity("200 g ± 10 %").unwrap();
    assert!(near(share.low.get(&G), 180.0) && near(share.high.get(&G), 220.0));
    // A finer count is a lighter yarn: the ends change places in SI.
    let inverse: Stated<LinearDensity> = quantity("20 ± 2 Ne").unwrap();
    assert!(near(inverse.low.get(&NE), 22.0) && near(inverse.high.get(&NE), 18.0) && inverse.low < inverse.high);
    let warm: Stated<Temperature> = quantity("20 ± 2 °C").unwrap();
    assert!(near(warm.high.to_si(), 295.15));
    assert!(!quantity::<Length>("27 mm").unwrap().is_doubted());
}

#[test]
fn what_is_refused_and_what_is_offered() {
    let length = [Kind::Length];
    for (text, code, near) in [
        ("27", "no-unit", None),
        ("27 mn", "unknown-unit", Some("27 mm")),
        ("27 kg", "wrong-unit", None),
        ("27,5 mm", "decimal-comma", Some("27.5 mm")),
        ("1,200 mm", "decimal-comma", Some("1200 mm")),
        ("NaN mm", "not-a-number", None),
        ("inf mm", "not-a-number", None),
        ("", "not-a-number", None),
        ("mm", "not-a-number", None),
        ("-3 mm", "negative", None),
        ("1e300 mm", "absurd-magnitude", None),
        ("1e-300 mm", "absurd-magnitude", None),
        ("99999999999999999999 mm", "absurd-magnitude", None),
        ("27 ± -2 mm", "bad-doubt", None),
        ("27 mm (30..40)", "bad-doubt", None),
        ("27 mm (25..29", "bad-doubt", None),
        ("27 mm (25, 29)", "bad-doubt", None),
        ("27 mm (25..29 cm)", "bad-doubt", None),
        ("27 mm 3 m", "not-a-quantity", None),
        ("27 mm (25..29) more", "not-a-quantity", None),
        ("1/0 in", "not-a-number", None),
    ] {
        let found = fault(text, &length);
        assert_eq!((found.code, found.near.as_deref()), (code, near), "{text}: {found}");
        assert!(text.get(found.at.clone()).is_some(), "{text}: {:?}", found.at);
    }
    assert_eq!(fault("0 Ne", &[Kind::LinearDensity]).code, "absurd-magnitude");
    assert_eq!(fault("20 ± 20 Ne", &[Kind::LinearDensity]).code, "bad-doubt");
    assert_eq!(fault(&"9".repeat(500), &length).code, "not-a-quantity");
    assert_eq!(fault("27 kg", &length).to_string(), "`kg` is a mass, and a length is wanted");
    assert_eq!(fault("27", &length).to_string(), "27 of what? A length needs its unit");
}

#[test]
fn every_unit_is_read_by_its_own_name() {
    for kind in Kind::ALL {
        for unit in kind.units() {
            let text = format!("3 {}", unit.name);
            let reading = read(text.trim_end(), &[*kind]).unwrap_or_else(|fault| panic!("{kind:?} {text}: {fault}"));
            assert!(near(reading.number(), 3.0), "{text}");
        }
    }
    assert!(find_unit("Nm", &[Kind::Torque, Kind::LinearDensity]).is_some_and(|(kind, _)| kind == Kind::LinearDensity));
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,140}") {
        for kind in Kind::ALL {
            if let Err(fault) = read(&text, &[*kind]) {
                prop_assert!(text.get(fault.at.clone()).is_some(), "{:?} of {text:?}", fault.at);
            }
        }
    }

    #[test]
    fn near_misses_are_read_or_refused(text in "[0-9R]{0,4}[ .,/½x±(-]{0,3}[0-9]{0,3}[ ]{0,2}(mm|tex|Ne|%|in|ft|/cm|TM)?[ ±x(]{0,3}[0-9]{0,3}(\\.\\.)?[0-9]{0,3}[)%a-z]{0,3}") {
        let kinds = [Kind::Length, Kind::LinearDensity, Kind::Ratio, Kind::PerLength, Kind::TwistFactor];
        match read(&text, &kinds) {
            Err(fault) => prop_assert!(text.get(fault.at.clone()).is_some(), "{:?} of {text:?}", fault.at),
            Ok(is) => {
                prop_assert!(is.middle.is_finite() && is.low.is_finite() && is.high.is_finite(), "{text:?}: {is:?}");
                prop_assert!(is.low <= is.middle && is.middle <= is.high, "{text:?}: {is:?}");
            }
        }
    }

    #[test]
    fn a_number_in_any_unit_comes_back(value in 1e-3f64..1e6, which in 0usize..200) {
        let all: Vec<_> = Kind::ALL.iter().flat_map(|k| k.units().iter().map(move |u| (*k, *u))).collect();
        let (kind, unit) = all[which % all.len()];
        let text = format!("{value} {}", unit.name);
        let reading = read(text.trim_end(), &[kind]).unwrap();
        prop_assert!((reading.number() / value - 1.0).abs() < 1e-9, "{text}: {reading:?}");
    }
}
