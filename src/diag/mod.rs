//! Diagnostics: one type for a syntax, unit or engineering fault: where, what was given, what is accepted, the near name.
//!
//! Readers collect as many as they find and go on; rendering stands apart in [`show`]. Knows text and places in it, not what the
//! text is about.

pub mod show;

pub use crate::units::near::near;
pub use show::{Look, json, render};

use crate::units::text::Fault;
use std::ops::Range;

/// More than these are counted, not shown.
pub const MOST: usize = 50;
/// A word quoted in a message is cut here, in characters.
const LONGEST_QUOTE: usize = 60;

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Nothing can be worked out.
    Error,
    /// Worked out, but probably not what was meant.
    Warning,
    /// Worth knowing.
    Note,
}

/// One fault in a text.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    pub severity: Severity,
    /// Stable name, in kebab case.
    pub code: &'static str,
    /// One sentence, with what was given in it.
    pub message: String,
    /// Bytes of the text; none when the whole text is meant.
    pub span: Option<Range<usize>>,
    /// What stands there.
    pub given: Option<String>,
    /// What would be taken.
    pub accepted: Option<String>,
    /// What was probably meant.
    pub near: Option<String>,
    /// The way out.
    pub help: Option<String>,
}

impl Diagnostic {
    /// An error.
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Error, code, message.into())
    }
    /// A warning.
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, code, message.into())
    }
    /// A note.
    pub fn note(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, code, message.into())
    }
    fn new(severity: Severity, code: &'static str, message: String) -> Self {
        Diagnostic { severity, code, message, span: None, given: None, accepted: None, near: None, help: None }
    }
    /// Where.
    #[must_use]
    pub fn at(mut self, span: Option<Range<usize>>) -> Self {
        self.span = span;
        self
    }
    /// What stands there.
    #[must_use]
    pub fn given(mut self, given: impl Into<String>) -> Self {
        self.given = Some(given.into());
        self
    }
    /// What would be taken.
    #[must_use]
    pub fn accepts(mut self, accepted: impl Into<String>) -> Self {
        self.accepted = Some(accepted.into());
        self
    }
    /// What was probably meant, if anything was near.
    #[must_use]
    pub fn near(mut self, near: Option<String>) -> Self {
        self.near = near;
        self
    }
    /// The way out.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
    /// From a fault of [`crate::units::text`]; `place` is where the quantity's text stands, `inside` whether its bytes stand
    /// there one by one, so that the fault can be pointed at more closely.
    pub fn of_quantity(fault: &Fault, text: &str, place: Range<usize>, inside: bool) -> Self {
        let at = if inside && !fault.at.is_empty() {
            place.start + fault.at.start..place.start + fault.at.end
        } else {
            place
        };
        Self::error(fault.code, fault.message.clone()).at(Some(at)).given(text).near(fault.near.clone())
    }
    /// Whether this stops the work.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }
}

/// Whether any of them stops the work.
pub fn any_error(all: &[Diagnostic]) -> bool {
    all.iter().any(Diagnostic::is_error)
}

/// In the order of the text, errors first where two stand at one place, at most [`MOST`] and a note that counts the rest.
pub fn settle(mut all: Vec<Diagnostic>) -> Vec<Diagnostic> {
    all.sort_by_key(|d| (d.span.as_ref().map_or(0, |span| span.start), d.severity));
    all.dedup();
    if all.len() > MOST {
        // Errors are kept before warnings: a plan whose only error was cut off would look sound.
        all.sort_by_key(|d| d.severity);
        let rest = all.split_off(MOST).len();
        all.sort_by_key(|d| d.span.as_ref().map_or(0, |span| span.start));
        all.push(Diagnostic::note("more", format!("and {rest} more; mend these first")));
    }
    all
}

/// A text as it may stand in a message: cut, and without characters that could move a terminal's cursor or turn the line round.
pub fn quote(text: &str) -> String {
    let mut out = String::new();
    for (i, c) in text.chars().enumerate() {
        if i == LONGEST_QUOTE {
            out.push('…');
            break;
        }
        let turns =
            matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}');
        if c.is_control() || turns { out.extend(c.escape_default()) } else { out.push(c) }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_only_error_is_never_cut_off() {
        let mut all: Vec<Diagnostic> =
            (0..200).map(|i| Diagnostic::warning("w", format!("{i}")).at(Some(i..i))).collect();
        all.push(Diagnostic::error("e", "last").at(Some(900..901)));
        let kept = settle(all);
        assert_eq!(kept.len(), MOST + 1);
        assert!(any_error(&kept));
        assert_eq!(kept.last().map(|d| d.message.as_str()), Some("and 151 more; mend these first"));
    }

    #[test]
    fn quotes_are_tame() {
        assert_eq!(quote("27 mm"), "27 mm");
        assert_eq!(quote("\u{1b}[31mred\u{202e}"), "\\u{1b}[31mred\\u{202e}");
        assert_eq!(quote(&"é".repeat(100)).chars().count(), LONGEST_QUOTE + 1);
    }
}
