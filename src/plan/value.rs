//! One value: from what stands behind a key's `=` to what the row of the table takes.

use super::keys::{Key, Takes};
use super::last_name;
use crate::diag::{Diagnostic, near, quote};
use crate::trade::body::Group;
use crate::units::show::{self, Style};
use crate::units::text::{self, Fault, Reading};
use crate::units::{AnyUnit, Kind};
use crate::weave::{ColourOrder, Weave, colour};
use std::ops::Range;
use toml::Spanned;
use toml::de::DeValue;

/// A value with its place and the words it was typed in.
#[derive(Clone, Debug)]
pub struct Entry {
    pub value: Value,
    pub span: Range<usize>,
    pub typed: String,
}

/// A value.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Auto,
    Quantity(Reading),
    Quantities(Vec<Reading>),
    Word(&'static str),
    Whole(u32),
    Flag(bool),
    Text(String),
    Date(jiff::civil::Date),
}

/// First words of the weaves' names.
const WEAVES: &[&str] = &["plain", "rib", "weft", "hopsack", "twill", "satin", "sateen"];

type Read = Result<Value, Box<Diagnostic>>;

/// Where a value stands and what is looked for.
struct Asked<'a> {
    key: &'a Key,
    source: &'a str,
    span: Range<usize>,
}

/// The value behind `key`.
///
/// # Errors
/// A diagnostic that points at it.
pub fn read(key: &Key, value: &Spanned<DeValue<'_>>, source: &str) -> Result<Entry, Box<Diagnostic>> {
    let span = value.span();
    let asked = Asked { key, source, span: span.clone() };
    let typed = match value.get_ref() {
        DeValue::String(text) => text.to_string(),
        _ => source.get(span.clone()).unwrap_or("").to_string(),
    };
    let read = asked.value(value.get_ref())?;
    Ok(Entry { value: read, span, typed })
}

impl Asked<'_> {
    fn name(&self) -> &str {
        last_name(self.key.path)
    }

    fn value(&self, value: &DeValue<'_>) -> Read {
        match (&self.key.takes, value) {
            (Takes::Quantity { .. }, DeValue::String(text)) => self.quantity(text),
            (Takes::Quantity { .. }, DeValue::Integer(number)) => self.bare(number.as_str()),
            (Takes::Quantity { .. }, DeValue::Float(number)) => self.bare(number.as_str()),
            (Takes::Quantities { most, .. }, DeValue::Array(list)) => self.quantities(list, *most),
            (Takes::Whole { least, most }, DeValue::Integer(number)) => self.whole(number.as_str(), *least, *most),
            (Takes::Choice(_), DeValue::String(text)) => self.choice(text),
            (Takes::Flag, DeValue::Boolean(flag)) => Ok(Value::Flag(*flag)),
            (Takes::Text { longest }, DeValue::String(text)) => self.text(text, *longest),
            (Takes::File { .. }, DeValue::String(text)) => self.file(text),
            (Takes::Date, DeValue::String(text)) => self.date(text),
            (Takes::Date, DeValue::Datetime(day)) if day.time.is_none() => self.date(&day.to_string()),
            (Takes::Weave, DeValue::String(text)) => self.weave(text),
            (Takes::Colours, DeValue::String(text)) => self.colours(text),
            (Takes::Colour, DeValue::String(text)) => self.colour(text),
            (Takes::UsualSize, DeValue::String(text)) => self.usual_size(text),
            _ => Err(self.wrong_type(value)),
        }
    }

    fn fault(&self, code: &'static str, message: String) -> Box<Diagnostic> {
        Box::new(Diagnostic::error(code, message).at(Some(self.span.clone())).accepts(words_of(&self.key.takes)))
    }

    fn wrong_type(&self, value: &DeValue<'_>) -> Box<Diagnostic> {
        let (name, given) = (self.name(), quote(self.source.get(self.span.clone()).unwrap_or("").trim()));
        let what = match value {
            DeValue::Table(_) => String::from("a group of keys"),
            DeValue::Array(_) => String::from("a list"),
            _ => format!("`{given}`"),
        };
        let mut found = self.fault("wrong-type", format!("`{name}` is not {what}")).given(given.clone());
        let bare = given.trim_matches(['"', '\'']);
        found.near = match (&self.key.takes, value) {
            (Takes::Whole { .. }, DeValue::String(_)) if bare.parse::<u32>().is_ok() => Some(bare.to_string()),
            (Takes::Flag, DeValue::String(text)) => match text.to_lowercase().as_str() {
                "yes" | "true" | "on" | "y" => Some(String::from("true")),
                "no" | "false" | "off" | "n" => Some(String::from("false")),
                _ => None,
            },
            (Takes::Quantities { .. }, DeValue::String(_)) => Some(format!("[\"{bare}\"]")),
            (Takes::Text { .. }, DeValue::Integer(_) | DeValue::Float(_)) => Some(format!("\"{bare}\"")),
            _ => None,
        };
        Box::new(found)
    }

    /// Bytes of the text of a quoted value, where they stand in the source as they are.
    fn inside(&self, text: &str) -> (Range<usize>, bool) {
        let raw = self.source.get(self.span.clone()).unwrap_or("");
        let within = self.span.start + 1..self.span.end.saturating_sub(1).max(self.span.start + 1);
        let plain = raw.len() == text.len() + 2 && self.source.get(within.clone()) == Some(text);
        if plain { (within, true) } else { (self.span.clone(), false) }
    }

    fn quantity(&self, text: &str) -> Read {
        let Takes::Quantity { auto, words, .. } = &self.key.takes else {
            return Err(self.fault("wrong-type", String::new()));
        };
        let trimmed = text.trim();
        if trimmed.eq_ignore_ascii_case("auto") {
            return if *auto { Ok(Value::Auto) } else { Err(self.not_auto()) };
        }
        if let Some(found) = words.iter().find(|w| w.word.eq_ignore_ascii_case(trimmed)) {
            return Ok(Value::Word(found.word));
        }
        let kinds = self.key.takes.kinds();
        let reading = text::read(text, &kinds).map_err(|fault| self.misread(&fault, text))?;
        if reading.kind == Kind::Ratio && reading.unit.name.is_empty() {
            return Err(self.bare_share(trimmed, reading.middle));
        }
        self.in_range(reading, text).map(Value::Quantity)
    }

    fn not_auto(&self) -> Box<Diagnostic> {
        let message = format!("`{}` is not decided by the program", self.name());
        let help = if self.key.absent.starts_with("needed") {
            format!("give it, for example {}", self.key.example)
        } else {
            format!("leave it out for: {}", self.key.absent)
        };
        Box::new(self.fault("not-auto", message).given("auto").help(help))
    }

    fn misread(&self, fault: &Fault, text: &str) -> Box<Diagnostic> {
        let (place, inside) = self.inside(text);
        let mut found = Diagnostic::of_quantity(fault, &quote(text), place, inside).accepts(words_of(&self.key.takes));
        let letters = text.trim().chars().all(|c| c.is_alphabetic() || c == ' ' || c == '-');
        if letters && !text.trim().is_empty() {
            let mut words: Vec<&str> = self.key.takes.words().iter().map(|w| w.word).collect();
            words.extend(self.key.takes.is_auto().then_some("auto"));
            found.near = near(text.trim(), words).map(String::from);
        }
        found.message = if fault.code == "no-unit" {
            let typed = quote(text.trim());
            found.near = self.with_unit(text.trim());
            format!(
                "{typed} of what? `{}` takes {} with its unit",
                self.name(),
                text::kind_words(&self.key.takes.kinds())
            )
        } else {
            format!("`{}`: {}", self.name(), quote_message(&fault.message))
        };
        Box::new(found)
    }

    /// A number that stands without quotes.
    fn bare(&self, typed: &str) -> Read {
        let kinds = self.key.takes.kinds();
        if kinds.iter().any(|kind| matches!(kind, Kind::Number | Kind::Money)) {
            return self.quantity(typed);
        }
        let words = text::kind_words(&kinds);
        let message = format!("{} of what? `{}` takes {words} with its unit, in quotes", quote(typed), self.name());
        let mut found = self.fault("no-unit", message).given(quote(typed));
        found.near = self.with_unit(typed).map(|text| format!("\"{text}\""));
        Err(Box::new(found))
    }

    /// The number in the unit of the example.
    fn with_unit(&self, typed: &str) -> Option<String> {
        let number = typed.parse::<f64>().ok().filter(|n| n.is_finite())?;
        let kinds = self.key.takes.kinds();
        let (kind, unit) = kinds.into_iter().find_map(|kind| Some((kind, example_unit(self.key, kind)?)))?;
        let share = if kind == Kind::Ratio && number <= 1.0 { 100.0 } else { 1.0 };
        Some(format!("{} {}", show::number(number * share), unit.name))
    }

    fn bare_share(&self, typed: &str, value: f64) -> Box<Diagnostic> {
        let percent = if value.abs() <= 1.5 { value * 100.0 } else { value };
        let message = format!("{} of what? `{}` takes a share in per cent", quote(typed), self.name());
        let mut found = self.fault("no-unit", message).given(quote(typed));
        found.near = Some(format!("{} %", show::number(percent)));
        Box::new(found)
    }

    /// Within the range of its kind, the ends of the doubt cut off there.
    fn in_range(&self, mut reading: Reading, text: &str) -> Result<Reading, Box<Diagnostic>> {
        let Takes::Quantity { spans, doubt, .. } = &self.key.takes else { return Ok(reading) };
        let Some(span) = spans.iter().find(|span| span.kind == reading.kind) else { return Ok(reading) };
        let ((low, high), unit) = (span.in_si(), span.unit());
        // Seven digits: the ends themselves are taken, whatever conversion rounds.
        let slack = 1e-7 * (high - low);
        if reading.middle < low - slack || reading.middle > high + slack {
            let at_least = (reading.middle < low) != matches!(unit.scale, crate::units::Scale::Inverse(_));
            let (end, word) = if at_least { (span.low, "least") } else { (span.high, "most") };
            let limit = format!("{} {}", show::number(end), unit.name);
            let message = format!("`{}` cannot be {}: at {word} {}", self.name(), quote(text.trim()), limit.trim_end());
            return Err(Box::new(self.fault("out-of-range", message).given(quote(text))));
        }
        if !doubt && reading.low != reading.high {
            let message = format!("`{}` is chosen, not measured: it takes no doubt", self.name());
            let mut found = self.fault("no-doubt-taken", message).given(quote(text));
            found.near = Some(show::quantity(reading.middle, &reading.unit, style_of(reading.unit.name)));
            return Err(Box::new(found));
        }
        reading.low = reading.low.clamp(low.min(reading.middle), reading.middle);
        reading.high = reading.high.clamp(reading.middle, high.max(reading.middle));
        Ok(reading)
    }

    fn quantities(&self, list: &[Spanned<DeValue<'_>>], most: usize) -> Read {
        let Takes::Quantities { span, .. } = &self.key.takes else { return Ok(Value::Quantities(Vec::new())) };
        if list.len() > most {
            return Err(self.fault("too-many", format!("{} entries in `{}`: at most {most}", list.len(), self.name())));
        }
        let row = Key {
            takes: Takes::Quantity { spans: vec![*span], auto: false, doubt: false, words: Vec::new() },
            example: self.key.example.trim_matches(['[', ']']).split(',').next().unwrap_or(""),
            ..self.key.clone()
        };
        let mut readings = Vec::new();
        for value in list {
            let one = Asked { key: &row, source: self.source, span: value.span() };
            match one.value(value.get_ref())? {
                Value::Quantity(reading) => readings.push(reading),
                _ => return Err(one.wrong_type(value.get_ref())),
            }
        }
        Ok(Value::Quantities(readings))
    }

    fn whole(&self, typed: &str, least: u32, most: u32) -> Read {
        match typed.parse::<i128>() {
            Ok(number) if (i128::from(least)..=i128::from(most)).contains(&number) => {
                Ok(Value::Whole(u32::try_from(number).unwrap_or(most)))
            }
            _ => {
                let message = format!("`{}` cannot be {}", self.name(), quote(typed));
                Err(Box::new(self.fault("out-of-range", message).given(quote(typed))))
            }
        }
    }

    fn choice(&self, text: &str) -> Read {
        let words = self.key.takes.words();
        let same = |word: &str| word.eq_ignore_ascii_case(text.trim()) || word.replace(['-', ' '], "_") == text.trim();
        if let Some(found) = words.iter().find(|w| same(w.word)) {
            return Ok(Value::Word(found.word));
        }
        let message = format!("`{}` is not one of the words `{}` takes", quote(text), self.name());
        let mut found = self.fault("unknown-word", message).given(quote(text));
        found.near = near(text.trim(), words.iter().map(|w| w.word)).map(String::from);
        Err(Box::new(found))
    }

    fn text(&self, text: &str, longest: usize) -> Read {
        let length = text.chars().count();
        if length > longest {
            let message = format!("`{}` has {length} characters: at most {longest}", self.name());
            return Err(self.fault("too-long", message));
        }
        if text.chars().any(char::is_control) {
            return Err(
                self.fault("control-character", format!("`{}` has a character that cannot be printed", self.name()))
            );
        }
        Ok(Value::Text(text.to_string()))
    }

    /// A name below the plan's own folder.
    fn file(&self, text: &str) -> Read {
        let inside = !text.is_empty()
            && text.len() <= 200
            && !text.contains(['\\', ':'])
            && !text.chars().any(char::is_control)
            && text.split('/').all(|part| !part.is_empty() && part != "." && part != "..");
        if inside {
            return Ok(Value::Text(text.to_string()));
        }
        let message = format!("`{}` does not name a file in the plan's own folder", quote(text));
        Err(Box::new(
            self.fault("bad-file-name", message)
                .given(quote(text))
                .help("put the file beside the plan and write its name"),
        ))
    }

    fn date(&self, text: &str) -> Read {
        let date: Option<jiff::civil::Date> = (text.len() == 10).then(|| text.parse().ok()).flatten();
        match date {
            Some(date) if (1900..=2199).contains(&date.year()) => Ok(Value::Date(date)),
            _ => {
                let message = format!("`{}` is not a day of the calendar", quote(text));
                Err(Box::new(self.fault("bad-date", message).given(quote(text))))
            }
        }
    }

    fn weave(&self, text: &str) -> Read {
        let Err(fault) = Weave::parse(text) else { return Ok(Value::Text(text.to_string())) };
        let mut found = self.fault("unknown-weave", quote_message(&fault.message)).given(quote(text)).help(fault.help);
        // The nearest names in place of the words typed, if that is a weave.
        let nearest = |word: &str| near(word, WEAVES.iter().copied()).unwrap_or(word).to_string();
        let meant = text.split_whitespace().take(6).map(nearest).collect::<Vec<_>>().join(" ");
        found.near = Weave::parse(&meant).is_ok().then_some(meant);
        Err(Box::new(found))
    }

    fn colours(&self, text: &str) -> Read {
        if text.len() > 2000 {
            return Err(self.fault("too-long", format!("`{}` is longer than 2000 bytes", self.name())));
        }
        match ColourOrder::parse(text, &mut Vec::new()) {
            Ok(_) => Ok(Value::Text(text.to_string())),
            Err(fault) => Err(Box::new(
                self.fault("bad-colours", quote_message(&fault.message)).given(quote(text)).help(fault.help),
            )),
        }
    }

    fn colour(&self, text: &str) -> Read {
        if colour::rgb_of(&text.to_lowercase()).is_some() {
            return Ok(Value::Text(text.to_lowercase()));
        }
        Err(Box::new(self.fault("unknown-colour", format!("`{}` is not a colour", quote(text))).given(quote(text))))
    }

    fn usual_size(&self, text: &str) -> Read {
        if usual_size(text).is_some() {
            return Ok(Value::Text(text.to_string()));
        }
        let mut found = self.fault("unknown-size", format!("`{}` is not a usual size", quote(text))).given(quote(text));
        let (whose, place) = text.trim().rsplit_once(' ').unwrap_or((text.trim(), "p50"));
        let group = near(whose, Group::ALL.iter().map(|group| group.word()));
        found.near = group.map(|group| format!("{group} {place}")).filter(|meant| usual_size(meant).is_some());
        Err(Box::new(found))
    }
}

/// The unit of a kind that a key's example is written in, which is the one most people would mean.
pub fn example_unit(key: &Key, kind: Kind) -> Option<AnyUnit> {
    let words = key.example.trim_matches(['"', '[', ']']).rsplit([' ', ',']);
    words.map(|word| word.trim_matches('"')).find_map(|word| text::find_unit(word, &[kind])).map(|(_, unit)| unit)
}

/// `women p50` as whose table and how many of a hundred are smaller, 1 to 99.
pub fn usual_size(text: &str) -> Option<(Group, f64)> {
    let (whose, place) = text.trim().rsplit_once(' ')?;
    let group = Group::ALL.into_iter().find(|group| group.word().eq_ignore_ascii_case(whose.trim()))?;
    let place: u32 = place.strip_prefix(['p', 'P'])?.parse().ok()?;
    (1..=99).contains(&place).then_some((group, f64::from(place)))
}

/// What a row takes, in words for a person.
pub fn words_of(takes: &Takes) -> String {
    let or = |words: &[String]| match words.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    };
    match takes {
        Takes::Quantity { spans, auto, words, .. } => {
            let mut out: Vec<String> = spans
                .iter()
                .map(|span| {
                    let units = text::unit_list(&[span.kind]);
                    let unit = span.unit().name;
                    let range = format!("{} to {} {unit}", show::number(span.low), show::number(span.high));
                    format!("{} in {units}, {}", span.kind.words(), range.trim_end())
                        .replace(" in a plain number,", ",")
                })
                .collect();
            out.extend(words.iter().map(|w| format!("\"{}\"", w.word)));
            out.extend(auto.then(|| String::from("\"auto\"")));
            out.join("; or ")
        }
        Takes::Quantities { span, most } => {
            format!("up to {most} of {} in {}, in square brackets", span.kind.words(), text::unit_list(&[span.kind]))
        }
        Takes::Whole { least, most } => format!("a whole number, {least} to {most}, without quotes"),
        Takes::Choice(words) => or(&words.iter().map(|w| format!("\"{}\"", w.word)).collect::<Vec<_>>()),
        Takes::Flag => String::from("true or false, without quotes"),
        Takes::Text { longest } => format!("words in quotes, up to {longest} characters"),
        Takes::File { what } => format!("{what}, by its name in quotes"),
        Takes::Date => String::from("a day as \"2026-04-20\""),
        Takes::Weave => String::from("a weave by name, as \"plain\" or \"twill 2/2\""),
        Takes::Colours => String::from("numbers of threads and colours, as \"24 natural, 6 indigo\""),
        Takes::Colour => String::from("a colour as \"#2d3e68\" or by name, as \"indigo\""),
        Takes::UsualSize => String::from("\"women\" or \"men\" and p1 to p99, as \"women p50\""),
    }
}

fn style_of(unit: &str) -> Style {
    let inch = ["in", "ft", "yd", "lb", "oz", "/in", "oz/yd2", "yd2", "Ne", "yd/lb", "lbf", "psi", "°F", "yd/h"];
    if inch.contains(&unit) { Style::Inch } else { Style::Metric }
}

/// A message that quotes what was typed, made tame.
fn quote_message(message: &str) -> String {
    message
        .chars()
        .flat_map(|c| if c.is_control() { c.escape_default().collect::<Vec<_>>() } else { vec![c] })
        .take(200)
        .collect()
}
