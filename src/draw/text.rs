//! Measuring and breaking words. Widths come from the advance widths of the very faces that the exporters embed, without
//! kerning and ligatures, which make a line at most a little shorter than measured, never longer.

use std::sync::{Arc, OnceLock};

use crate::draw::sheet::{Anchor, Draw, Point, Type};
use crate::draw::style::{self, Face};

/// Base line to base line, in heights of the type.
pub const LEADING: f64 = 1.36;
/// Height of a capital above the base line, in heights of the type (DejaVu Sans: 0.729).
pub const CAPITAL: f64 = 0.729;
/// Depth of a descender below the base line, in heights of the type (DejaVu Sans: 0.236).
pub const DESCENT: f64 = 0.236;

/// The bytes of a face, so that a page can serve them.
pub fn face_bytes(face: Face) -> &'static [u8] {
    match face {
        Face::Plain => dejavu::sans_condensed::regular(),
        Face::Bold => dejavu::sans_condensed::bold(),
        Face::Serif => dejavu::serif_condensed::regular(),
    }
}

/// The faces as the exporters' font store; the system's fonts are never looked at.
pub fn store() -> Arc<usvg::fontdb::Database> {
    static STORE: OnceLock<Arc<usvg::fontdb::Database>> = OnceLock::new();
    let load = || {
        let mut fonts = usvg::fontdb::Database::new();
        for face in Face::ALL {
            fonts.load_font_source(usvg::fontdb::Source::Binary(Arc::new(face_bytes(face))));
        }
        Arc::new(fonts)
    };
    STORE.get_or_init(load).clone()
}

/// Advance widths, in heights of the type, of the letters that most words are made of; others are looked up one by one.
struct Widths {
    face: ttf_parser::Face<'static>,
    common: Vec<f64>,
}

/// Letters up to here are measured once: Latin with its accents.
const COMMON: u32 = 0x250;

impl Widths {
    fn of(face: Face) -> Self {
        let face = ttf_parser::Face::parse(face_bytes(face), 0).expect("the shipped face is sound");
        let common = (0..COMMON).map(|c| char::from_u32(c).map_or(0.0, |c| advance(&face, c))).collect();
        Widths { face, common }
    }
    fn get(&self, letter: char) -> f64 {
        let known = self.common.get(letter as usize);
        known.copied().unwrap_or_else(|| advance(&self.face, letter))
    }
}

/// The advance width of a letter; one that the face lacks counts as its empty box.
fn advance(face: &ttf_parser::Face, letter: char) -> f64 {
    let glyph = face.glyph_index(letter).unwrap_or(ttf_parser::GlyphId(0));
    f64::from(face.glyph_hor_advance(glyph).unwrap_or(0)) / f64::from(face.units_per_em())
}

fn widths(face: Face) -> &'static Widths {
    static WIDTHS: [OnceLock<Widths>; 3] = [const { OnceLock::new() }; 3];
    WIDTHS[face as usize].get_or_init(|| Widths::of(face))
}

/// Width of one line of words in millimetres.
pub fn width(kind: Type, words: &str) -> f64 {
    let widths = widths(style::letter(kind).face);
    words.chars().map(|c| widths.get(c)).sum::<f64>() * kind.size()
}

/// Base line to base line in millimetres.
pub fn leading(kind: Type) -> f64 {
    LEADING * kind.size()
}

/// The words broken at spaces into lines no wider than `wide` millimetres (a single word wider than that is broken where it
/// must). A line feed starts a new line; a no-break space never breaks.
pub fn wrap(kind: Type, words: &str, wide: f64) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in words.split('\n') {
        let mut line = String::new();
        for word in paragraph.split(' ').filter(|w| !w.is_empty()) {
            let longer = if line.is_empty() { word.to_string() } else { format!("{line} {word}") };
            if width(kind, &longer) <= wide {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            line = broken(kind, word, wide, &mut lines);
        }
        lines.push(line);
    }
    lines
}

/// Pushes full lines of a word too wide for one, and gives the rest of it.
fn broken(kind: Type, word: &str, wide: f64, lines: &mut Vec<String>) -> String {
    let mut rest = String::new();
    for letter in word.chars() {
        rest.push(letter);
        if width(kind, &rest) > wide && rest.chars().count() > 1 {
            rest.pop();
            lines.push(std::mem::take(&mut rest));
            rest.push(letter);
        }
    }
    rest
}

/// One line cut to `wide` millimetres, with an ellipsis where something is left out.
pub fn shortened(kind: Type, words: &str, wide: f64) -> String {
    if width(kind, words) <= wide {
        return words.to_string();
    }
    let mut kept: String = words.to_string();
    while !kept.is_empty() && width(kind, &format!("{}…", kept.trim_end())) > wide {
        kept.pop();
    }
    format!("{}…", kept.trim_end())
}

/// Words set into a column `wide` millimetres wide whose top left corner is `top_left`; gives the y below the last line.
pub fn paragraph(draw: &mut impl Draw, kind: Type, top_left: impl Into<Point>, wide: f64, words: &str) -> f64 {
    let Point { x, y } = top_left.into();
    let lines = wrap(kind, words, wide);
    let count = lines.len();
    for (i, line) in lines.into_iter().enumerate().filter(|(_, line)| !line.is_empty()) {
        draw.words(kind, Anchor::Start, (x, base(kind, y) + i as f64 * leading(kind)), line);
    }
    y + count as f64 * leading(kind)
}

/// The base line of a line of words whose top is `top`.
pub fn base(kind: Type, top: f64) -> f64 {
    top + kind.size() * (CAPITAL + (LEADING - CAPITAL - DESCENT) / 2.0)
}

/// Height of words set into a column `wide` millimetres wide.
pub fn height(kind: Type, words: &str, wide: f64) -> f64 {
    wrap(kind, words, wide).len() as f64 * leading(kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Other program: the text layout of usvg sets the same words in the same face.
    #[test]
    fn a_measured_line_is_as_wide_as_a_set_one() {
        for kind in [Type::Body, Type::Strong, Type::Heading] {
            let words = "Warp 908 ends, 2.98 m: 295 g ± 12 g, 31 °C";
            let face = style::letter(kind).face;
            let family = face.family().replace('\'', "&quot;");
            let weight = if face == Face::Bold { "bold" } else { "normal" };
            let svg = format!(
                "<svg xmlns='http://www.w3.org/2000/svg' width='300' height='20'><text y='10' font-family='{family}' \
                 font-weight='{weight}' font-size='{}' text-anchor='start'>{words}</text></svg>",
                kind.size()
            );
            let options = usvg::Options { fontdb: store(), ..Default::default() };
            let tree = usvg::Tree::from_str(&svg, &options).expect("the test's SVG is sound");
            let set = f64::from(tree.root().bounding_box().width());
            let measured = width(kind, words);
            assert!((measured - set).abs() < 0.015 * set, "{kind:?}: measured {measured:.2}, set {set:.2}");
        }
    }

    #[test]
    fn lines_fit_and_nothing_is_lost() {
        let words = "Wash the cloth before cutting; it will draw in again by one to three in the hundred.";
        for wide in [8.0, 20.0, 55.0, 400.0] {
            let lines = wrap(Type::Body, words, wide);
            assert!(lines.iter().all(|l| width(Type::Body, l) <= wide), "{wide}");
            let glued: String = lines.concat().replace(' ', "");
            assert_eq!(glued, words.replace(' ', ""));
        }
        assert_eq!(wrap(Type::Body, "one\n\ntwo", 50.0), ["one", "", "two"]);
        assert_eq!(wrap(Type::Body, "", 50.0), [""]);
    }

    #[test]
    fn a_shortened_line_fits() {
        let short = shortened(Type::Small, "a name much longer than its place", 20.0);
        assert!(short.ends_with('…') && width(Type::Small, &short) <= 20.0, "{short}");
        assert_eq!(shortened(Type::Small, "short", 20.0), "short");
    }
}
