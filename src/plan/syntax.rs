//! Faults of the TOML itself, in words for a person at the bench rather than for a parser.

use crate::diag::{Diagnostic, MOST, quote};
use std::collections::BTreeSet;
use std::ops::Range;

/// Parsers' words and ours: the first part that is found in the message decides.
const WORDS: &[(&str, &str)] = &[
    ("duplicate key", "this key stands twice; keep one of them"),
    ("unclosed inline table", "a `}` is missing"),
    ("unclosed array table", "`]]` is missing behind the name of the table"),
    ("unclosed array", "a `]` is missing"),
    ("unclosed table", "a `]` is missing behind the name of the section"),
    ("key with no value", "this key has no `=` and no value"),
    ("missing value", "behind the `=` stands no value"),
    ("missing comma between array", "a comma is missing between the entries of this list"),
    ("missing comma between key", "a comma is missing between the keys in these braces"),
    ("missing assignment", "a `=` is missing behind this key"),
    ("missing key for inline", "a key is missing in front of this"),
    ("extra comma", "there is a comma too many"),
    ("extra `=`", "there is a `=` too many"),
    ("invalid basic string", "the closing quote is missing"),
    ("invalid literal string", "the closing quote is missing"),
    ("invalid multi-line", "the closing three quotes are missing"),
    ("recursion limit", "this is nested deeper than any plan needs"),
    ("invalid key", "this cannot be a key: letters, digits and `_` only"),
    ("escape", "a `\\` begins a code here; write `\\\\` for the sign itself"),
];

/// Longer lines are not looked at for missing quotes.
const LONGEST_LINE: usize = 400;
/// Errors of the parser that are looked at, and lines that are spoken of; a text with more is not a plan.
const MOST_ERRORS: usize = 4096;

/// Where the lines of a text start, found once.
pub struct Lines<'a> {
    source: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub fn of(source: &'a str) -> Self {
        let starts = std::iter::once(0).chain(source.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Lines { source, starts }
    }
    /// The line that byte `at` stands on, from 0.
    pub fn number(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at).saturating_sub(1)
    }
    /// Bytes of a line without its end.
    fn range(&self, number: usize) -> Range<usize> {
        let start = self.starts[number];
        let end = self.starts.get(number + 1).map_or(self.source.len(), |next| next - 1);
        let carriage = self.source[start..end].ends_with('\r');
        start..end - usize::from(carriage)
    }
    /// Whether a line opens a section.
    fn is_header(&self, number: usize) -> bool {
        self.source[self.range(number)].trim_start().starts_with('[')
    }
    /// Whether the section that a line belongs to has a header with a fault: its keys have then gone astray.
    pub fn is_astray(&self, number: usize, faulty: &BTreeSet<usize>) -> bool {
        let header = faulty.range(..=number).next_back().copied();
        header.is_some_and(|header| self.is_header(header) && !(header + 1..=number).any(|line| self.is_header(line)))
    }
}

/// Plain diagnostics for a parser's errors; the first on a line speaks for those behind it, which mostly follow from it.
pub fn plain(errors: &[toml::de::Error], lines: &Lines<'_>) -> Vec<Diagnostic> {
    let mut seen = BTreeSet::new();
    let first =
        errors.iter().take(MOST_ERRORS).filter(|error| seen.insert(lines.number(error.span().map_or(0, |s| s.start))));
    first.take(MOST).map(|error| one(error, lines)).collect()
}

fn one(error: &toml::de::Error, lines: &Lines<'_>) -> Diagnostic {
    let source = lines.source;
    let span = error.span().map(|span| widen(&span, source));
    let line = span.as_ref().map_or(0..0, |span| lines.range(lines.number(span.start)));
    let text = &source[line.clone()];
    if let Some(quoted) = unquoted(text) {
        let (_, value) = text.split_once('=').unwrap_or(("", text));
        let start = line.end - value.trim_start().len();
        let at = start..start + value.trim().len();
        let found = Diagnostic::error("unquoted", "a quantity or a word stands in quotes").at(Some(at));
        return found.given(quote(value.trim())).near(Some(quoted));
    }
    let words = WORDS.iter().find(|(theirs, _)| error.message().contains(theirs)).map(|(_, ours)| *ours);
    let message = words.map_or_else(|| format!("the text breaks off here: {}", quote(error.message())), String::from);
    Diagnostic::error("syntax", message).at(span)
}

/// `"66 cm"` for the line `length = 66 cm`.
fn unquoted(line: &str) -> Option<String> {
    let (key, value) = line.split_once('=').filter(|_| line.len() <= LONGEST_LINE)?;
    let value = value.split('#').next().unwrap_or("").trim();
    let plain = !value.is_empty() && value.len() <= 60 && !value.contains(['"', '\'', '{', '}', '[', ']', '=', ',']);
    let is_key =
        key.trim().chars().all(|c| c.is_alphanumeric() || matches!(c, '_' | '.' | '-')) && !key.trim().is_empty();
    (plain && is_key && value.contains(|c: char| c.is_alphabetic() || c == '%'))
        .then(|| format!("\"{}\"", quote(value)))
}

/// At the edges of characters, and at least one character wide where there is one.
fn widen(span: &Range<usize>, source: &str) -> Range<usize> {
    let mut start = span.start.min(source.len());
    while !source.is_char_boundary(start) {
        start -= 1;
    }
    let mut end = span.end.clamp(start, source.len());
    if end == start && source[start..].starts_with(|c: char| c != '\n') {
        end += 1;
    }
    while !source.is_char_boundary(end) {
        end += 1;
    }
    start..end
}
