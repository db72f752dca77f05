//! Numbers as people write them: decimals, fractions, thousands parted by a blank.

use super::{Fault, Scan};
use std::fmt::Write as _;
use std::ops::Range;

/// Magnitudes outside these (nought apart) are slips of the finger in any unit of the table.
const LEAST: f64 = 1e-9;
const GREATEST: f64 = 1e12;

/// Characters that are one number and a fraction line.
const VULGAR: &[(char, f64)] = &[
    ('½', 0.5),
    ('¼', 0.25),
    ('¾', 0.75),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
];

/// A number as typed.
pub struct Number {
    pub value: f64,
    /// `20/2`: both sides, when it is nothing but a fraction of whole numbers.
    pub over: Option<(u32, u32)>,
    pub at: Range<usize>,
}

impl<'a> Scan<'a> {
    /// A decimal number, a fraction, or a whole number and a fraction.
    pub fn number(&mut self) -> Result<Number, Fault> {
        self.skip();
        let start = self.at;
        let negative = self.take("-") || self.take("−");
        let sign = if negative { -1.0 } else { 1.0 };
        let whole = self.grouped();
        let decimals = self.rest().starts_with('.') && !self.rest().starts_with("..");
        if self.rest().starts_with(',') && self.rest()[1..].starts_with(|c: char| c.is_ascii_digit()) {
            return Err(self.comma(start));
        }
        let mut over = None;
        let value = if decimals || (!whole.is_empty() && self.has_exponent()) {
            self.decimal(&whole)
        } else if let Some((n, d)) = self.over(&whole) {
            over = Some((n, d)).filter(|_| !negative);
            f64::from(n) / f64::from(d)
        } else if whole.is_empty() {
            self.part().unwrap_or(f64::NAN)
        } else {
            whole.parse().unwrap_or(f64::NAN) + self.part().unwrap_or(0.0)
        };
        if !value.is_finite() {
            return Err(self.no_number(start));
        }
        if value != 0.0 && !(LEAST..=GREATEST).contains(&value) {
            let message =
                format!("`{}` is beyond anything that can be grown, spun, woven or built", &self.text[start..self.at]);
            return Err(self.fault("absurd-magnitude", start..self.at, message));
        }
        Ok(Number { value: sign * value, over, at: start..self.at })
    }

    /// A run of digits, thousands parted by a blank or not.
    fn grouped(&mut self) -> String {
        let mut digits = self.digits().to_string();
        let groups = if (1..=3).contains(&digits.len()) { 3 } else { 0 };
        for _ in 0..groups {
            let rest = self.rest();
            let Some(blank) = rest.chars().next().filter(|c| matches!(c, ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}'))
            else {
                break;
            };
            let after = &rest[blank.len_utf8()..];
            let group = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
            if group != 3 || after[group..].starts_with('/') {
                break;
            }
            digits.push_str(&after[..3]);
            self.at += blank.len_utf8() + 3;
        }
        digits
    }

    fn has_exponent(&self) -> bool {
        let mut chars = self.rest().chars();
        matches!(chars.next(), Some('e' | 'E'))
            && match chars.next() {
                Some('+' | '-') => chars.next().is_some_and(|c| c.is_ascii_digit()),
                Some(c) => c.is_ascii_digit(),
                None => false,
            }
    }

    fn decimal(&mut self, whole: &str) -> f64 {
        let mut digits = if whole.is_empty() { String::from("0") } else { whole.to_string() };
        if self.take(".") {
            let _ = write!(digits, ".{}", self.digits());
        }
        if digits.ends_with('.') && whole.is_empty() {
            return f64::NAN;
        }
        if self.has_exponent() {
            let from = self.at;
            self.at += 1;
            let _ = self.take("+") || self.take("-");
            self.digits();
            digits.push_str(&self.text[from..self.at]);
        }
        digits.parse().unwrap_or(f64::NAN)
    }

    /// The rest of `20/2`, the first number being read already.
    fn over(&mut self, whole: &str) -> Option<(u32, u32)> {
        let back = self.at;
        let found = (|| {
            let n: u32 = whole.parse().ok()?;
            self.take("/").then_some(())?;
            let d: u32 = self.digits().parse().ok()?;
            Some((n, d))
        })();
        if found.is_none() {
            self.at = back;
        }
        found
    }

    /// A fraction behind a whole number: ` 1/2`, `-1/2`, `½`.
    fn part(&mut self) -> Option<f64> {
        let back = self.at;
        self.skip();
        if let Some((mark, value)) = self.peek().and_then(|c| VULGAR.iter().find(|(mark, _)| *mark == c)) {
            self.at += mark.len_utf8();
            return Some(*value);
        }
        if self.at == back && !self.take("-") {
            return None;
        }
        let n = self.digits();
        match self.over(n) {
            Some((n, d)) if n < d && d <= 1024 => Some(f64::from(n) / f64::from(d)),
            _ => {
                self.at = back;
                None
            }
        }
    }

    fn comma(&mut self, start: usize) -> Fault {
        let whole = self.text[start..self.at].to_string();
        self.at += 1;
        let after = self.digits().to_string();
        let rest = self.rest();
        let mut fault = self.fault(
            "decimal-comma",
            start..self.at,
            format!("`{whole},{after}` could mean {whole}.{after} or {whole}{after}: write it with a point or without the comma"),
        );
        fault.near = Some(if after.len() == 3 && !rest.starts_with(',') {
            format!("{whole}{after}{rest}")
        } else {
            format!("{whole}.{after}{rest}")
        });
        fault
    }

    fn no_number(&self, start: usize) -> Fault {
        let rest = &self.text[start..];
        let end = rest.find([' ', '(', '±']).unwrap_or(rest.len()).max(rest.chars().next().map_or(0, char::len_utf8));
        let word = &rest[..end];
        let message = if rest.trim().is_empty() {
            String::from("a number is missing here")
        } else {
            format!("`{word}` is not a number")
        };
        self.fault("not-a-number", start..start + end, message)
    }
}
