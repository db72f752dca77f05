//! Sheets as SVG: [`inline`] for a page (classes only, styled by [`style::page_css`]; no ids, so that many drawings share a
//! page, and no style attributes, so that a strict content policy holds) and [`file()`] to stand alone (millimetres, its own
//! style block). One user unit is one millimetre. Knows nothing of files; same sheet, same bytes.

use std::fmt::Write;

use kurbo::{Affine, BezPath, PathEl, Point, Rect};

use crate::draw::extent::{Seen, walk};
use crate::draw::sheet::{Anchor, Fill, Line, Sheet, Type};
use crate::draw::style::{self, Look};

/// Decimals of a millimetre that are written: a thousandth.
const DECIMALS: usize = 3;

/// The drawing for a page; the page carries [`style::page_css`] once. Its size is the page's business.
pub fn inline(sheet: &Sheet) -> String {
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"cw\" data-sheet=\"{}\" role=\"img\" viewBox=\"0 0 {} {}\">",
        escaped(&sheet.name),
        number(sheet.width),
        number(sheet.height)
    );
    body(&mut out, sheet, "data-name");
    out + "</svg>"
}

/// The drawing as a file of its own on warm paper.
pub fn file(sheet: &Sheet) -> String {
    file_in(sheet, Look::Light)
}

/// The drawing as a file of its own on that ground; [`Look::Print`] leaves the ground out.
pub fn file_in(sheet: &Sheet, look: Look) -> String {
    let (w, h) = (number(sheet.width), number(sheet.height));
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" role=\"img\" \
         width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\">\n<style>\n{}</style>",
        style::sheet_css(look)
    );
    if look != Look::Print {
        let _ = writeln!(out, "<path class=\"f-paper\" d=\"M0 0H{w}V{h}H0Z\"/>");
    }
    body(&mut out, sheet, "id");
    out + "</svg>\n"
}

/// Title, description and items. `naming` is the attribute that holds a group's name.
fn body(out: &mut String, sheet: &Sheet, naming: &str) {
    let _ = writeln!(out, "<title>{}</title><desc>{}</desc>", escaped(&sheet.title), escaped(&sheet.describe));
    let mut used = std::collections::BTreeMap::new();
    walk(&sheet.items, &mut |seen| match seen {
        Seen::Open { name, title } => {
            let name = if naming == "id" { id_of(name, &mut used) } else { escaped(name) };
            let _ = writeln!(out, "<g {naming}=\"{name}\">");
            if let Some(title) = title {
                let _ = writeln!(out, "<title>{}</title>", escaped(title));
            }
        }
        Seen::Close => out.push_str("</g>\n"),
        Seen::Path { path, line, fill } => shape(out, &path, line, fill),
        Seen::Words { at, text, kind, anchor, turn } => words(out, at, text, kind, anchor, turn),
        Seen::Picture { at, place, png, describe } => picture(out, at, place, png, describe),
    });
}

fn shape(out: &mut String, path: &BezPath, line: Option<Line>, fill: Option<Fill>) {
    let mut classes: Vec<&str> = Vec::new();
    let mut own_colour = String::new();
    match fill {
        Some(Fill::Rgb(r, g, b)) => own_colour = format!(" fill=\"{}\"", style::hex((r, g, b))),
        Some(fill) => classes.extend(style::tint(fill).map(|t| t.class)),
        None => own_colour += " fill=\"none\"",
    }
    classes.extend(line.map(|l| style::stroke(l).class));
    let _ = writeln!(out, "<path class=\"{}\"{own_colour} d=\"{}\"/>", classes.join(" "), path_data(path));
}

fn words(out: &mut String, at: Point, text: &str, kind: Type, anchor: Anchor, turn: f64) {
    let anchor = match anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let (x, y) = (number(at.x), number(at.y));
    let turn = if turn == 0.0 { String::new() } else { format!(" transform=\"rotate({} {x} {y})\"", number(turn)) };
    let class = style::letter(kind).class;
    let _ = writeln!(out, "<text class=\"{class}\" x=\"{x}\" y=\"{y}\"{anchor}{turn}>{}</text>", escaped(text));
}

fn picture(out: &mut String, at: Rect, place: Affine, png: &[u8], describe: &str) {
    let place = if place == Affine::IDENTITY {
        String::new()
    } else {
        let c: Vec<String> = place.as_coeffs().iter().map(|c| number_to(*c, 6)).collect();
        format!(" transform=\"matrix({})\"", c.join(" "))
    };
    let _ = writeln!(
        out,
        "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{place} preserveAspectRatio=\"none\" \
         href=\"data:image/png;base64,{}\"><title>{}</title></image>",
        number(at.x0),
        number(at.y0),
        number(at.width()),
        number(at.height()),
        base64(png),
        escaped(describe)
    );
}

/// A path as SVG writes it, absolute, to a thousandth of a millimetre.
pub fn path_data(path: &BezPath) -> String {
    let mut d = String::new();
    let mut put = |letter: char, points: &[Point]| {
        d.push(letter);
        for (i, p) in points.iter().enumerate() {
            if i > 0 {
                d.push(' ');
            }
            d += &number(p.x);
            d.push(' ');
            d += &number(p.y);
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => put('M', &[p]),
            PathEl::LineTo(p) => put('L', &[p]),
            PathEl::QuadTo(a, p) => put('Q', &[a, p]),
            PathEl::CurveTo(a, b, p) => put('C', &[a, b, p]),
            PathEl::ClosePath => put('Z', &[]),
        }
    }
    d
}

/// A number to a thousandth, without needless zeros and never as `-0`; what is not finite is written as 0.
pub fn number(value: f64) -> String {
    number_to(value, DECIMALS)
}

fn number_to(value: f64, decimals: usize) -> String {
    debug_assert!(value.is_finite(), "a drawing holds a number that is not finite");
    let value = if value.is_finite() { value } else { 0.0 };
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_string() } else { text }
}

/// Text as XML may hold it: markup escaped, characters that XML forbids left out.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            c => out.push(c),
        }
    }
    out
}

/// A name made into an id that no other group of this file has.
fn id_of(name: &str, used: &mut std::collections::BTreeMap<String, u32>) -> String {
    let kept = |c: char| if c.is_ascii_alphanumeric() || "-_.".contains(c) { c } else { '-' };
    let mut id: String = name.chars().map(kept).collect();
    if !id.starts_with(|c: char| c.is_ascii_alphabetic()) {
        id.insert_str(0, "g-");
    }
    let seen = used.entry(id.clone()).or_insert(0);
    *seen += 1;
    if *seen > 1 { format!("{id}--{seen}") } else { id }
}

/// Base 64 by RFC 4648, with padding.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let three = chunk.iter().fold(0u32, |n, b| n << 8 | u32::from(*b)) << (8 * (3 - chunk.len()));
        for i in 0..4 {
            let letter = LETTERS[(three >> (18 - 6 * i) & 63) as usize] as char;
            out.push(if i <= chunk.len() { letter } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::{Draw, Shape};
    use usvg::roxmltree::Document;

    fn sample() -> Sheet {
        let mut sheet = Sheet::new("sample", "A <sample> & more", "Says \"what\" it is.", 80.0, 40.0);
        for name in ["cut", "cut", "9 odd \u{1}<name>"] {
            sheet.group(name, Some("a > b"), Affine::translate((1.0, 2.0)), |g| {
                g.rect(Line::Cut, Rect::new(0.0, 0.0, 10.0, 5.0));
                g.area(Fill::Rgb(1, 2, 250), Some(Line::Outline), Rect::new(0.0, 0.0, 1.0, 1.0).to_path(0.1));
                g.words_turned(Type::Figure, Anchor::Middle, (5.0, 5.0), -90.0, "½ < 1 & 2");
            });
        }
        sheet
    }

    #[test]
    fn both_forms_are_sound_xml_with_a_name_and_a_description() {
        for svg in [inline(&sample()), file(&sample()), file_in(&sample(), Look::Dark)] {
            let doc = Document::parse(&svg).expect("sound XML");
            let root = doc.root_element();
            assert_eq!(root.attribute("role"), Some("img"));
            assert_eq!(root.attribute("viewBox"), Some("0 0 80 40"));
            let title = root.children().find(|n| n.has_tag_name("title")).and_then(|n| n.text());
            assert_eq!(title, Some("A <sample> & more"));
            let desc = root.children().find(|n| n.has_tag_name("desc")).and_then(|n| n.text());
            assert_eq!(desc, Some("Says \"what\" it is."));
        }
    }

    #[test]
    fn inline_has_no_ids_and_no_fixed_size_and_a_file_has_unique_ids() {
        let svg = inline(&sample());
        let doc = Document::parse(&svg).expect("sound XML");
        assert!(doc.descendants().all(|n| n.attribute("id").is_none()));
        assert!(doc.root_element().attribute("width").is_none());
        let svg = file(&sample());
        let doc = Document::parse(&svg).expect("sound XML");
        let ids: Vec<&str> = doc.descendants().filter_map(|n| n.attribute("id")).collect();
        assert_eq!(ids, ["cut", "cut--2", "g-9-odd---name-"]);
        assert_eq!(doc.root_element().attribute("width"), Some("80mm"));
    }

    #[test]
    fn numbers_have_fixed_decimals() {
        assert_eq!(number(0.1 + 0.2), "0.3");
        assert_eq!(number(-0.0001), "0");
        assert_eq!(number(100.0), "100");
        assert_eq!(number(-12.34567), "-12.346");
    }

    /// Published: the test vectors of RFC 4648, section 10.
    #[test]
    fn base64_is_the_published_one() {
        for (plain, coded) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg==")] {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
        assert_eq!(base64(b"foobar"), "Zm9vYmFy");
    }

    #[test]
    fn same_sheet_same_bytes() {
        assert_eq!(file(&sample()), file(&sample()));
        assert_eq!(inline(&sample()), inline(&sample()));
    }
}
