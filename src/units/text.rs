//! The text forms of a quantity, as a person types them in a plan, a log entry or at a prompt.
//!
//! `"27 mm"`, `"9 1/2 in"`, `"5 ft 6 in"`, `"20/2 Ne"`, `"20 tex x2"`, `"R 40 tex"`, `"27 ± 2 mm"`, `"60 % (40..75)"`. Knows which
//! kinds of quantity are wanted, but not what for: ranges and words such as `auto` belong to who asks. A decimal comma is refused,
//! with both readings offered, because `1,200 rpm` means two things to two people; a thousand may be parted by a space.

use super::near::near;
use super::{AnyUnit, Dimension, Kind, Q, Scale};
use number::Number;
use spelling::bare;
pub use spelling::{capital, find_unit, kind_words, unit_list};
use std::ops::Range;

mod number;
mod spelling;

/// The longest text that is looked at, in bytes.
pub const LONGEST: usize = 120;
/// More strands than this are not a yarn but a rope.
const MOST_PLIES: u32 = 24;

/// A quantity with its doubt: 80 of 100 such values lie between `low` and `high`, both equal to `middle` where no doubt is given.
pub struct Stated<D> {
    pub middle: Q<D>,
    /// The 10 % point.
    pub low: Q<D>,
    /// The 90 % point.
    pub high: Q<D>,
    /// The unit it was typed in.
    pub unit: AnyUnit,
}

impl<D> Clone for Stated<D> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<D> Copy for Stated<D> {}
impl<D> PartialEq for Stated<D> {
    fn eq(&self, other: &Self) -> bool {
        self.middle == other.middle && self.low == other.low && self.high == other.high && self.unit == other.unit
    }
}
impl<D> std::fmt::Debug for Stated<D> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?} ({:?}..{:?}) {}", self.middle, self.low, self.high, self.unit.name)
    }
}

impl<D> Stated<D> {
    /// Whether a doubt was given.
    pub fn is_doubted(&self) -> bool {
        self.low != self.high
    }
}

/// What a yarn count counts: in `20/2 Ne` and `20 tex x2` the single, in `R 40 tex` and a bare count the yarn as woven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Strand {
    Single,
    Woven,
}

/// A quantity read from text, in SI, with its kind as a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    pub kind: Kind,
    pub middle: f64,
    pub low: f64,
    pub high: f64,
    pub unit: AnyUnit,
    /// For yarn counts; [`Strand::Woven`] for all else.
    pub strand: Strand,
    /// The plies the count itself names: 2 in `20/2 Ne`.
    pub plies: Option<u32>,
}

impl Reading {
    /// The same with its dimension as a type, if that is its dimension.
    pub fn stated<D: Dimension>(&self) -> Option<Stated<D>> {
        (self.kind == D::KIND).then(|| Stated {
            middle: Q::si(self.middle),
            low: Q::si(self.low),
            high: Q::si(self.high),
            unit: self.unit,
        })
    }
    /// The middle in the unit it was typed in.
    pub fn number(&self) -> f64 {
        self.unit.scale.from_si(self.middle)
    }
}

/// Why a text is not the quantity asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Stable name of the fault.
    pub code: &'static str,
    /// One sentence.
    pub message: String,
    /// The bytes of the text that are to blame.
    pub at: Range<usize>,
    /// What was probably meant, as it should be typed.
    pub near: Option<String>,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)?;
        self.near.as_ref().map_or(Ok(()), |near| write!(f, " (did you mean `{near}`?)"))
    }
}

/// Reads `text` as a quantity of dimension `D`.
///
/// # Errors
/// A [`Fault`] that says what is wrong, where, and what was probably meant.
pub fn quantity<D: Dimension>(text: &str) -> Result<Stated<D>, Fault> {
    let reading = read(text, &[D::KIND])?;
    reading.stated().ok_or_else(|| Fault {
        code: "wrong-unit",
        message: format!("{} is wanted", D::KIND.words()),
        at: 0..text.len(),
        near: None,
    })
}

/// Reads `text` as a quantity of one of `kinds`.
///
/// # Errors
/// A [`Fault`] that says what is wrong, where, and what was probably meant.
pub fn read(text: &str, kinds: &[Kind]) -> Result<Reading, Fault> {
    if text.len() > LONGEST {
        let message = format!("{} characters are too many for a quantity", text.chars().count());
        return Err(Fault { code: "not-a-quantity", message, at: 0..text.len(), near: None });
    }
    let mut scan = Scan { text, at: 0, kinds };
    let reading = scan.whole()?;
    scan.skip();
    if scan.at < text.len() {
        let message = format!("`{}` is left over at the end", text[scan.at..].trim_end());
        return Err(scan.fault("not-a-quantity", scan.at..text.len(), message));
    }
    Ok(reading)
}

/// How far the truth may lie to either side.
enum Doubt {
    None,
    /// Half the width, in the unit typed.
    Half(f64),
    /// Half the width, as a share of the middle.
    Share(f64),
    /// Both ends, in the unit typed.
    Ends(f64, f64),
}

struct Scan<'a> {
    text: &'a str,
    at: usize,
    kinds: &'a [Kind],
}

impl<'a> Scan<'a> {
    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }
    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }
    fn skip(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }
    /// Steps over `word` if it comes next.
    fn take(&mut self, word: &str) -> bool {
        let found = self.rest().starts_with(word);
        self.at += if found { word.len() } else { 0 };
        found
    }
    fn digits(&mut self) -> &'a str {
        let rest = self.rest();
        let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        self.at += end;
        &rest[..end]
    }
    fn fault(&self, code: &'static str, at: Range<usize>, message: String) -> Fault {
        Fault { code, message, at, near: None }
    }

    /// The whole text: `[R] number [± number] unit [more] [± number [unit]] [x plies] [(low..high [unit])]`.
    fn whole(&mut self) -> Result<Reading, Fault> {
        self.skip();
        let resultant = self.is_resultant();
        let number = self.number()?;
        let mut doubt = self.doubt_before_unit()?;
        let (kind, unit, unit_at) = self.unit(&number)?;
        let (strand, plies, value) = self.strands(resultant, &number, kind, unit, &unit_at)?;
        let mut middle = self.in_si(value, kind, unit, &number.at)?;
        if let Doubt::None = doubt {
            middle += self.more(kind, unit)?;
            doubt = self.doubt_after_unit(kind, unit)?;
        }
        let plies = match self.times()? {
            None => plies,
            times @ Some(_) if kind == Kind::LinearDensity && plies.is_none() && !resultant => times,
            Some(_) => {
                return Err(self.fault(
                    "not-a-quantity",
                    number.at.start..self.at,
                    "the plies are named twice, or are not a yarn's".into(),
                ));
            }
        };
        let strand = if plies.is_some() && !resultant { Strand::Single } else { strand };
        if let Doubt::None = doubt {
            doubt = self.doubt_in_brackets(unit)?;
        }
        let (low, high) = self.ends(doubt, middle, kind, unit)?;
        Ok(Reading { kind, middle, low, high, unit, strand, plies })
    }

    /// `R 40 tex`: the count of the finished yarn.
    fn is_resultant(&mut self) -> bool {
        let rest = self.rest();
        let is = self.kinds.contains(&Kind::LinearDensity)
            && rest.starts_with(['R', 'r'])
            && rest[1..].trim_start().starts_with(|c: char| c.is_ascii_digit());
        if is {
            self.at += 1;
            self.skip();
        }
        is
    }

    /// `± 2` straight behind the number, sharing its unit.
    fn doubt_before_unit(&mut self) -> Result<Doubt, Fault> {
        if !self.plus_minus() {
            return Ok(Doubt::None);
        }
        self.half().map(|half| Doubt::Half(half.value))
    }

    fn plus_minus(&mut self) -> bool {
        let back = self.at;
        self.skip();
        let is = ["±", "+-", "+/-"].iter().any(|sign| self.take(sign));
        if !is {
            self.at = back;
        }
        is
    }

    fn half(&mut self) -> Result<Number, Fault> {
        let half = self.number()?;
        if half.value < 0.0 {
            return Err(self.fault(
                "bad-doubt",
                half.at,
                "the doubt behind ± is a width and cannot be negative".into(),
            ));
        }
        Ok(half)
    }

    /// The unit: all up to a doubt, a bracket, a `x2` or the next number of `5 ft 6 in`.
    fn unit(&mut self, number: &Number) -> Result<(Kind, AnyUnit, Range<usize>), Fault> {
        self.skip();
        let start = self.at;
        let token = self.unit_token();
        self.at += token.len();
        let word = token.trim_end();
        if word.is_empty() {
            if let Some(found) = bare(self.kinds) {
                return Ok((found.0, found.1, start..start));
            }
            let typed = &self.text[number.at.clone()];
            let message = format!("{typed} of what? {} needs its unit", capital(&kind_words(self.kinds)));
            return Err(self.fault("no-unit", number.at.clone(), message));
        }
        match find_unit(word, self.kinds) {
            Some((kind, unit)) => Ok((kind, unit, start..start + word.len())),
            None => Err(self.unknown_unit(word, start)),
        }
    }

    fn unit_token(&self) -> &'a str {
        let rest = self.rest();
        let mut blank = false;
        for (i, c) in rest.char_indices() {
            let next = &rest[i..];
            let stops = matches!(c, '(' | '±' | '×')
                || next.starts_with("+-")
                || next.starts_with("+/-")
                || (blank && (c.is_ascii_digit() || c == '.' || c == '-'))
                || (blank && c == 'x' && next[1..].trim_start().starts_with(|d: char| d.is_ascii_digit()));
            if stops {
                return &rest[..i];
            }
            blank = c.is_whitespace();
        }
        rest
    }

    fn unknown_unit(&self, word: &str, start: usize) -> Fault {
        let at = start..start + word.len();
        let wanted = kind_words(self.kinds);
        if let Some((kind, unit)) = find_unit(word, Kind::ALL) {
            return self.fault(
                "wrong-unit",
                at,
                format!("`{}` is {}, and {wanted} is wanted", unit.name, kind.words()),
            );
        }
        let names = self.kinds.iter().flat_map(|k| k.units()).map(|u| u.name).filter(|n| !n.is_empty());
        let mut fault =
            self.fault("unknown-unit", at, format!("`{word}` is not a unit of {}", wanted.trim_start_matches("a ")));
        fault.near =
            near(word, names).map(|name| format!("{}{name}{}", &self.text[..start], &self.text[start + word.len()..]));
        fault
    }

    /// Which strand a count counts, how many plies it names, and the number of units in it.
    fn strands(
        &mut self,
        resultant: bool,
        number: &Number,
        kind: Kind,
        unit: AnyUnit,
        unit_at: &Range<usize>,
    ) -> Result<(Strand, Option<u32>, f64), Fault> {
        let woven = (Strand::Woven, None, number.value);
        if kind != Kind::LinearDensity {
            return Ok(woven);
        }
        let token = &self.text[unit_at.clone()];
        let behind = token.rsplit_once('/').and_then(|(_, n)| n.trim().parse::<u32>().ok());
        if resultant {
            return Ok((Strand::Woven, behind, number.value));
        }
        let whole = number.at.start..unit_at.end;
        if let Some(plies) = behind {
            let message = format!("`{}` could be the single or the yarn", &self.text[whole.clone()]);
            let mut fault = self.fault("which-strand", whole, message);
            fault.near = Some(format!("{} {} x{plies}", &self.text[number.at.clone()], unit.name));
            return Err(fault);
        }
        let Some((a, b)) = number.over else { return Ok(woven) };
        let (single, plies) = (a.max(b), a.min(b));
        if !matches!(unit.scale, Scale::Inverse(_)) || matches!(unit.name, "m/g" | "yd/lb") {
            let message = format!("`{a}/{b}` is not written in {}: say the single and the plies", unit.name);
            let mut fault = self.fault("which-strand", whole, message);
            fault.near = Some(format!("{single} {} x{plies}", unit.name));
            return Err(fault);
        }
        self.plies(plies, number.at.clone())?;
        Ok((Strand::Single, Some(plies), f64::from(single)))
    }

    fn plies(&self, plies: u32, at: Range<usize>) -> Result<u32, Fault> {
        if (1..=MOST_PLIES).contains(&plies) {
            return Ok(plies);
        }
        Err(self.fault("absurd-magnitude", at, format!("{plies} plies: a yarn here has 1 to {MOST_PLIES}")))
    }

    /// ` x2` behind a count.
    fn times(&mut self) -> Result<Option<u32>, Fault> {
        let back = self.at;
        self.skip();
        if !(self.take("x") || self.take("×")) {
            self.at = back;
            return Ok(None);
        }
        self.skip();
        let start = self.at;
        let plies = self.digits().parse().unwrap_or(0);
        self.plies(plies, start..self.at).map(Some)
    }

    fn in_si(&self, value: f64, kind: Kind, unit: AnyUnit, at: &Range<usize>) -> Result<f64, Fault> {
        let signed = matches!(kind, Kind::Ratio | Kind::Temperature | Kind::Angle | Kind::Number | Kind::Money);
        if value < 0.0 && !signed {
            return Err(self.fault("negative", at.clone(), format!("{} cannot be negative", kind.words())));
        }
        if value <= 0.0 && matches!(unit.scale, Scale::Inverse(_)) {
            let message = format!("a yarn of 0 {} would have no length at all", unit.name);
            return Err(self.fault("absurd-magnitude", at.clone(), message));
        }
        Ok(unit.scale.to_si(value))
    }

    /// The `6 in` of `5 ft 6 in`, in SI: a smaller unit of the same kind.
    fn more(&mut self, kind: Kind, unit: AnyUnit) -> Result<f64, Fault> {
        let back = self.at;
        self.skip();
        let Scale::Direct(larger) = unit.scale else {
            self.at = back;
            return Ok(0.0);
        };
        if !self.peek().is_some_and(|c| c.is_ascii_digit()) {
            self.at = back;
            return Ok(0.0);
        }
        let number = self.number()?;
        let (_, second, at) = Scan { kinds: &[kind], ..*self }.unit(&number)?;
        self.at = at.end;
        match second.scale {
            Scale::Direct(smaller) if smaller < larger => Ok(smaller * number.value),
            _ => {
                let message =
                    format!("`{}` does not go on from `{}`: a smaller unit is wanted", second.name, unit.name);
                Err(self.fault("not-a-quantity", number.at.start..at.end, message))
            }
        }
    }

    /// `± 2 mm` or `± 10 %` behind the unit.
    fn doubt_after_unit(&mut self, kind: Kind, unit: AnyUnit) -> Result<Doubt, Fault> {
        if !self.plus_minus() {
            return Ok(Doubt::None);
        }
        let half = self.half()?;
        self.skip();
        let start = self.at;
        let token = self.unit_token();
        self.at += token.len();
        let word = token.trim_end();
        if word.is_empty() {
            return Ok(Doubt::Half(half.value));
        }
        if word == "%" && kind != Kind::Ratio {
            return Ok(Doubt::Share(half.value / 100.0));
        }
        let Some((_, second)) = find_unit(word, &[kind]) else { return Err(self.unknown_unit(word, start)) };
        match (unit.scale, second.scale) {
            _ if unit == second => Ok(Doubt::Half(half.value)),
            (Scale::Direct(typed), Scale::Direct(other)) => Ok(Doubt::Half(half.value * other / typed)),
            _ => {
                let message = format!("write the doubt in {} too", unit.name);
                Err(self.fault("bad-doubt", start..start + word.len(), message))
            }
        }
    }

    /// `(40..75)`, in the unit typed.
    fn doubt_in_brackets(&mut self, unit: AnyUnit) -> Result<Doubt, Fault> {
        self.skip();
        let start = self.at;
        if !self.take("(") {
            return Ok(Doubt::None);
        }
        let low = self.number()?;
        self.skip();
        if !["...", "..", "…", "–"].iter().any(|dots| self.take(dots)) {
            let message = String::from("between the brackets stand the low and the high end, as in `(40..75)`");
            return Err(self.fault("bad-doubt", start..self.text.len(), message));
        }
        let high = self.number()?;
        let rest = self.rest();
        let Some(close) = rest.find(')') else {
            return Err(self.fault("bad-doubt", start..self.text.len(), "a `)` is missing".into()));
        };
        let word = rest[..close].trim();
        let same = word.is_empty() || find_unit(word, self.kinds).is_some_and(|(_, second)| second == unit);
        self.at += close + 1;
        if !same {
            let message = format!("write both ends of the doubt in {}, as the value itself", unit.name);
            return Err(self.fault("bad-doubt", start..self.at, message));
        }
        Ok(Doubt::Ends(low.value, high.value))
    }

    /// Both ends of the doubt in SI, low first.
    fn ends(&self, doubt: Doubt, middle: f64, kind: Kind, unit: AnyUnit) -> Result<(f64, f64), Fault> {
        let typed = unit.scale.from_si(middle);
        let (low, high) = match doubt {
            Doubt::None => return Ok((middle, middle)),
            Doubt::Half(half) => (typed - half, typed + half),
            Doubt::Share(share) => (typed - typed.abs() * share, typed + typed.abs() * share),
            Doubt::Ends(low, high) => (low, high),
        };
        let whole = 0..self.text.len();
        // Half a part in a thousand million: the middle went to SI and back.
        let slack = typed.abs() * 5e-10;
        if !(low <= typed + slack && typed - slack <= high) {
            let message = format!("the doubt runs from {low} to {high} and leaves out the value itself");
            return Err(self.fault("bad-doubt", whole, message));
        }
        if matches!(unit.scale, Scale::Inverse(_)) && low <= 0.0 {
            let message = format!("the doubt reaches down to {low} {}, a yarn with no length at all", unit.name);
            return Err(self.fault("bad-doubt", whole, message));
        }
        let floor = matches!(kind, Kind::Ratio | Kind::Temperature | Kind::Angle | Kind::Number | Kind::Money);
        let low = if floor { low } else { low.max(0.0) };
        let (a, b) = (unit.scale.to_si(low), unit.scale.to_si(high));
        Ok((a.min(b).min(middle), a.max(b).max(middle)))
    }
}

#[cfg(test)]
mod tests;
