//! Every formula's text against its code, by an expression evaluator that knows neither; every equation that a root finder meets
//! against a root found by another way; and the form of the entries. The evaluator (`fasteval`) binds a sign before a power and
//! runs powers from the right: [`no_text_can_be_misread`] keeps the texts clear of both, and of `a/b*c`.
#![expect(clippy::disallowed_methods, reason = "an opinion of its own: the platform's functions, not the code's")]

use clothwright::formulas::registry::{Entry, Solve};
use clothwright::formulas::{self, cloth};
use clothwright::units::Kind;
use proptest::prelude::{Strategy, any};
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// The value of a text, with the letters it was given; notes which letters it used.
fn by_text(text: &str, letters: &[(&str, f64)], used: &mut [bool]) -> f64 {
    let mut names = |name: &str, args: Vec<f64>| match (name, &args[..]) {
        ("sqrt", [x]) => Some(x.sqrt()),
        ("exp", [x]) => Some(x.exp()),
        ("log10", [x]) => Some(x.log10()),
        ("atan2", [y, x]) => Some(y.atan2(*x)),
        ("erfc", [x]) => Some(erfc(*x)),
        ("pi", []) => Some(std::f64::consts::PI),
        (letter, []) => letters.iter().position(|(name, _)| *name == letter).map(|at| {
            used[at] = true;
            letters[at].1
        }),
        _ => None,
    };
    fasteval::ez_eval(text, &mut names).unwrap_or_else(|error| panic!("{text}: {error:?}"))
}

/// The complementary error function by its series, and by its continued fraction further out.
fn erfc(x: f64) -> f64 {
    let root_pi = std::f64::consts::PI.sqrt();
    if x < 0.0 {
        return 2.0 - erfc(-x);
    }
    if x < 2.0 {
        let (mut term, mut sum) = (x, x);
        for k in 1..80 {
            term *= -x * x / f64::from(k);
            sum += term / f64::from(2 * k + 1);
        }
        return 1.0 - 2.0 / root_pi * sum;
    }
    let fraction = (1..120).rev().fold(0.0, |below, k| f64::from(k) / 2.0 / (x + below));
    (-x * x).exp() / (root_pi * (x + fraction))
}

/// A number in a range: half of them evenly, half evenly by magnitude where the range spans some.
fn within(runner: &mut TestRunner, from: f64, to: f64) -> f64 {
    let (share, by_magnitude) = (0.0..1.0_f64, any::<bool>()).new_tree(runner).expect("a number").current();
    if by_magnitude && from >= 0.0 && to > 100.0 * from.max(1e-9) {
        let low = from.max(to * 1e-9);
        return (low * (to / low).powf(share)).clamp(from, to);
    }
    from + (to - from) * share
}

/// Where text and code may differ by more than 1e-12 of the value: by how much in the unit of the result, and why.
const ROUGHER: &[(&str, f64, &str)] =
    &[("shed-strain", 1e-12, "the text subtracts two lengths that are nearly equal, the code does not")];

#[test]
fn every_text_says_what_its_code_does() {
    let mut runner = TestRunner::deterministic();
    for entry in formulas::all() {
        let takes = entry.takes();
        let (mut tried, mut held) = (0, 0);
        let mut used = vec![false; takes.len()];
        while held < 250 {
            tried += 1;
            assert!(tried < 100_000, "{}: its condition leaves almost nothing of its ranges", entry.name());
            let values: Vec<f64> = takes.iter().map(|arg| within(&mut runner, arg.from, arg.to)).collect();
            let letters: Vec<(&str, f64)> = takes.iter().map(|arg| arg.name).zip(values.iter().copied()).collect();
            let holds =
                entry.only().is_empty() || by_text(entry.only(), &letters, &mut vec![false; letters.len()]) != 0.0;
            assert_eq!(
                holds,
                entry.holds(&values),
                "{}: its condition's text and code differ at {letters:?}",
                entry.name()
            );
            if !holds {
                continue;
            }
            held += 1;
            let (text, code) = (by_text(entry.text(), &letters, &mut used), entry.eval(&values));
            assert!(code.is_finite(), "{}: {code} inside its ranges, at {letters:?}", entry.name());
            let slack = ROUGHER.iter().find(|(name, ..)| *name == entry.name()).map_or(1e-24, |(_, slack, _)| *slack);
            let near = (text - code).abs() <= 1e-12 * code.abs() + slack;
            assert!(near, "{}: text {text}, code {code} at {letters:?}", entry.name());
        }
        assert!(used.iter().all(|used| *used), "{}: an input that its text does not use", entry.name());
    }
}

/// A division is the last thing in its product, no sign stands before a power, no power on a power.
#[test]
fn no_text_can_be_misread() {
    let texts = formulas::all().map(|entry| (entry.name(), entry.text()));
    let residuals = solves().map(|solve| (solve.name, solve.residual));
    for (name, text) in texts.chain(residuals) {
        assert_eq!(misreading(text), None, "{name}: {text}");
    }
    for wrong in ["a/b*c", "a/b/c", "(a/b)/c/d", "x^y^z", "2*-x^2", "-x^2"] {
        assert!(misreading(wrong).is_some(), "{wrong}");
    }
    for right in ["a*b/c", "(a/b)*c", "a/(b*c)-d/f+1", "n^(-0.2)", "10^(-D/n)"] {
        assert_eq!(misreading(right), None, "{right}");
    }
}

fn misreading(text: &str) -> Option<&'static str> {
    let (mut divided, mut raised, mut signed) = (vec![false], vec![false], vec![false]);
    let mut last = '(';
    for c in text.chars().filter(|c| !c.is_whitespace()) {
        let (product, power, sign) = (divided.last_mut()?, raised.last_mut()?, signed.last_mut()?);
        match c {
            '*' | '/' if *product => return Some("something after a division"),
            '/' => (*product, *power, *sign) = (true, false, false),
            '*' => (*power, *sign) = (false, false),
            '^' if *power => return Some("a power on a power"),
            '^' if *sign => return Some("a sign before a power"),
            '^' => *power = true,
            '-' if "(,*/".contains(last) => *sign = true,
            '+' | '-' | ',' => (*product, *power, *sign) = (false, false, false),
            '(' => {
                divided.push(false);
                raised.push(false);
                signed.push(false);
            }
            ')' => {
                divided.pop();
                raised.pop();
                signed.pop();
            }
            _ => {}
        }
        last = c;
    }
    None
}

#[test]
fn entries_are_in_form() {
    let mut names = Vec::new();
    for entry in formulas::all() {
        let name = entry.name();
        assert!(is_kebab(name), "{name}: a name is small letters, digits and hyphens");
        assert!(!names.contains(&name), "{name}: twice");
        names.push(name);
        assert!(
            entry.says().len() > 12 && entry.says().ends_with('.'),
            "{name}: says \u{201c}{}\u{201d}",
            entry.says()
        );
        assert!(entry.says().starts_with(|c: char| c.is_uppercase()), "{name}: a sentence begins with a capital");
        let takes = entry.takes();
        for (at, arg) in takes.iter().enumerate() {
            assert!(takes.iter().skip(at + 1).all(|other| other.name != arg.name), "{name}: two letters {}", arg.name);
            assert!(arg.from < arg.to && arg.from.is_finite() && arg.to.is_finite(), "{name}: range of {}", arg.name);
            assert!(has_unit(arg.kind, arg.unit), "{name}: unit {} of {}", arg.unit, arg.name);
            assert!(!["e", "pi"].contains(&arg.name), "{name}: {} is a constant to many readers", arg.name);
        }
        let (_, unit, kind) = entry.gives();
        assert!(has_unit(kind, unit), "{name}: unit {unit} of the result");
        assert!(
            formulas::find(name).is_some_and(|found| found.text() == entry.text()),
            "{name}: not found by its name"
        );
    }
    for solve in solves() {
        assert!(is_kebab(solve.name) && !names.contains(&solve.name), "{}: name", solve.name);
        for (letter, unit) in solve.letters {
            assert!(Kind::ALL.iter().any(|kind| has_unit(*kind, unit)), "{}: unit {unit} of {letter}", solve.name);
        }
    }
    assert!(names.len() >= 70, "{} formulas", names.len());
    println!("{} formulas, {} equations met by a root finder", names.len(), solves().count());
}

fn is_kebab(name: &str) -> bool {
    name.split('-').all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()))
}

fn has_unit(kind: Kind, name: &str) -> bool {
    kind.units().iter().any(|unit| unit.name == name)
}

fn solves() -> impl Iterator<Item = &'static Solve> {
    formulas::TOPICS.iter().flat_map(|topic| topic.solves.iter().copied())
}

/// A solution found another way: the letters' values, the unknown last, and the size against which the residual counts.
fn solved_otherwise(name: &str, runner: &mut TestRunner) -> (Vec<f64>, f64) {
    assert_eq!(name, cloth::CRIMP_IN_REED.name, "an equation that nobody here solves another way");
    weft_in_reed(runner)
}

/// The cloth's spacing by halving, with the angle and the crimp of each spacing in closed form.
fn weft_in_reed(runner: &mut TestRunner) -> (Vec<f64>, f64) {
    loop {
        if let Some(solution) = unjammed_weft_in_reed(runner) {
            return solution;
        }
    }
}

fn unjammed_weft_in_reed(runner: &mut TestRunner) -> Option<(Vec<f64>, f64)> {
    let [d, warp_share, firm] = [(0.1, 3.0), (0.2, 0.8), (0.2, 0.9)].map(|(from, to)| within(runner, from, to));
    let (h, bubble) = (d * (1.0 - warp_share), within(runner, 0.0, 0.06));
    let (i, n) = [(2.0, 2.0), (2.0, 4.0), (2.0, 5.0), (4.0, 10.0)][(within(runner, 0.0, 3.99)) as usize];
    let reed = d / firm;
    let laid = |p: f64| {
        let angle = cloth::WEAVE_ANGLE.eval(&[d, p, h]);
        i * p * (1.0 + cloth::CRIMP.eval(&[d, p, angle])) + (n - i) * p - n * (1.0 + bubble) * reed
    };
    let (mut low, mut high) = ((2.0 * d * h - h * h).sqrt(), reed * (1.0 + bubble));
    if laid(low) >= 0.0 {
        return None; // jammed
    }
    assert!(laid(high) > 0.0, "D {d} h {h} reed {reed}");
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if laid(middle) < 0.0 { low = middle } else { high = middle }
    }
    let angle = cloth::WEAVE_ANGLE.eval(&[d, low, h]);
    Some((vec![i, n, d, h, bubble, 10.0 / reed, angle], n * reed))
}

#[test]
fn roots_found_another_way_are_roots_of_the_text() {
    let mut runner = TestRunner::deterministic();
    for solve in solves() {
        for _ in 0..300 {
            let (values, size) = solved_otherwise(solve.name, &mut runner);
            let letters: Vec<(&str, f64)> = solve.letters.iter().map(|(letter, _)| *letter).zip(values).collect();
            assert_eq!(letters.len(), solve.letters.len());
            let mut used = vec![false; letters.len()];
            let residual = by_text(solve.residual, &letters, &mut used);
            assert!(used.iter().all(|used| *used), "{}: a letter that its residual does not use", solve.name);
            assert!(residual.abs() < 1e-9 * size, "{}: {residual} at {letters:?}", solve.name);
        }
    }
}
