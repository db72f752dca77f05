//! Diagnostics as text with the line and a caret, plain or coloured, and as JSON.

use super::{Diagnostic, Severity};
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use serde_json::{Value, json as object};
use std::ops::Range;

/// How it is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    Plain,
    Coloured,
}

/// A line longer than this is named, not shown.
const LONGEST_LINE: usize = 400;
const WIDTH: usize = 120;

/// All of them, one after the other, with the lines of `source` they point at. `name` is what the text is called.
pub fn render(all: &[Diagnostic], source: &str, name: &str, look: Look) -> String {
    let renderer = match look {
        Look::Plain => Renderer::plain(),
        Look::Coloured => Renderer::styled(),
    };
    let renderer = renderer.term_width(WIDTH);
    let mut out = String::new();
    for one in all {
        if !out.is_empty() {
            out.push('\n');
        }
        out.push_str(renderer.render(&[group(one, source, name)]).trim_end());
        out.push('\n');
    }
    out
}

fn group<'a>(one: &'a Diagnostic, source: &'a str, name: &'a str) -> Group<'a> {
    let level = match one.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let mut group = Group::with_title(level.primary_title(one.message.as_str()).id(one.code));
    let label = one.near.as_ref().map(|near| format!("did you mean `{near}`?"));
    match one.span.as_ref().map(|span| clamp(span, source)) {
        None => {}
        Some(span) => {
            let place = Place::of(&span, source);
            let line = &source[place.line.clone()];
            if line.len() > LONGEST_LINE {
                group = group.element(Origin::path(name).line(place.number).char_column(place.column));
                group = group.elements(label.map(|label| Level::HELP.no_name().message(label)));
            } else {
                // Only the first line of a span is shown.
                let end = span.end.clamp(span.start, place.line.end);
                let mark =
                    AnnotationKind::Primary.span(span.start - place.line.start..end - place.line.start).label(label);
                group = group.element(Snippet::source(line).line_start(place.number).path(name).annotation(mark));
            }
        }
    }
    group
        .elements(one.accepted.as_ref().map(|accepted| Level::NOTE.with_name("takes").message(accepted.as_str())))
        .elements(one.help.as_ref().map(|help| Level::HELP.message(help.as_str())))
}

/// All of them as a list of objects, with line and column counted from 1 in characters.
pub fn json(all: &[Diagnostic], source: &str) -> Value {
    let one = |d: &Diagnostic| {
        let span = d.span.as_ref().map(|span| clamp(span, source));
        let place = span.as_ref().map(|span| Place::of(span, source));
        let mut map = serde_json::Map::new();
        let mut put = |name: &str, value: Value| {
            if !value.is_null() {
                map.insert(name.into(), value);
            }
        };
        put("severity", object!(d.severity));
        put("code", object!(d.code));
        put("message", object!(d.message));
        put("line", object!(place.as_ref().map(|p| p.number)));
        put("column", object!(place.as_ref().map(|p| p.column)));
        put("span", object!(span.map(|s| [s.start, s.end])));
        put("given", object!(d.given));
        put("accepted", object!(d.accepted));
        put("near", object!(d.near));
        put("help", object!(d.help));
        Value::Object(map)
    };
    Value::Array(all.iter().map(one).collect())
}

/// Where a span starts.
struct Place {
    /// From 1.
    number: usize,
    /// In characters, from 1.
    column: usize,
    /// Bytes of the line, without its end.
    line: Range<usize>,
}

impl Place {
    fn of(span: &Range<usize>, source: &str) -> Self {
        let before = &source[..span.start];
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        let length = source[start..].find('\n').unwrap_or(source.len() - start);
        let line = source[start..start + length].trim_end_matches('\r');
        Place {
            number: before.matches('\n').count() + 1,
            column: source[start..span.start].chars().count() + 1,
            line: start..start + line.len().max(span.start - start),
        }
    }
}

/// The span within the text and at the edges of characters: what points past the end would panic in a renderer.
fn clamp(span: &Range<usize>, source: &str) -> Range<usize> {
    let floor = |mut at: usize| {
        at = at.min(source.len());
        while !source.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = floor(span.start);
    start..floor(span.end).max(start)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn line_caret_and_the_near_name() {
        let source = "[garment]\nkind = \"tee\"\nbody = { chesst = \"98 cm\" }\n";
        let one = Diagnostic::error("unknown-key", "garment.body has no key `chesst`")
            .at(Some(32..38))
            .near(Some("chest".into()))
            .accepts("chest, head or neck")
            .help("see docs/plan.md");
        assert_eq!(
            render(std::slice::from_ref(&one), source, "plan.toml", Look::Plain),
            "\
error[unknown-key]: garment.body has no key `chesst`
 --> plan.toml:3:10
  |
3 | body = { chesst = \"98 cm\" }
  |          ^^^^^^ did you mean `chest`?
  |
  = takes: chest, head or neck
  = help: see docs/plan.md
"
        );
        assert!(render(std::slice::from_ref(&one), source, "plan.toml", Look::Coloured).contains("\u{1b}["));
        let json = json(&[one], source);
        assert_eq!((json[0]["line"].as_u64(), json[0]["column"].as_u64()), (Some(3), Some(10)));
        assert_eq!(json[0]["near"], "chest");
        assert!(json[0].get("given").is_none());
    }

    proptest! {
        #[test]
        fn any_span_of_any_text_renders(source in "[\\PC\n\r\t\u{0}-\u{1f}é漢]{0,80}", start in 0usize..120, length in 0usize..60) {
            let one = Diagnostic::warning("w", "m").at(Some(start..start + length)).near(Some("n".into()));
            prop_assert!(render(std::slice::from_ref(&one), &source, "p", Look::Plain).contains("warning[w]: m"));
            prop_assert!(json(&[one], &source)[0]["line"].is_u64());
        }
    }
}
