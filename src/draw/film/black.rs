//! A sheet's shapes and words in black for a film: words as the outlines of their letters, so that no printer puts another face in.

use crate::draw::extent::{Seen, walk};
use crate::draw::sheet::{Anchor, Fill, Line, Sheet, Type};
use crate::draw::style::{self, Face};
use crate::draw::text;
use kurbo::{Affine, BezPath, PathEl, Point};
use pdf_writer::Content;
use pdf_writer::types::LineCapStyle;

/// Draws the sheet with its foot at the origin, in points.
pub fn draw(content: &mut Content, sheet: &Sheet) {
    content.save_state();
    let k = 72.0 / 25.4;
    // from millimetres down to points up
    content.transform([k as f32, 0.0, 0.0, -k as f32, 0.0, (sheet.height * k) as f32]);
    content.set_stroke_gray(0.0).set_fill_gray(0.0).set_line_cap(LineCapStyle::ButtCap);
    walk(&sheet.items, &mut |seen| match seen {
        Seen::Path { path, line, fill } => shape(content, &path, line, fill),
        Seen::Words { at, text, kind, anchor, turn } => words(content, at, text, kind, anchor, turn),
        _ => {}
    });
    content.restore_state();
}

fn shape(content: &mut Content, path: &BezPath, line: Option<Line>, fill: Option<Fill>) {
    if let Some(fill) = fill {
        content.set_fill_gray(if fill == Fill::Paper { 1.0 } else { 0.0 });
        outline(content, path);
        content.fill_nonzero().set_fill_gray(0.0);
    }
    if let Some(line) = line {
        let stroke = style::stroke(line);
        content.set_line_width(stroke.weight as f32);
        content.set_dash_pattern(stroke.dash.iter().map(|d| *d as f32), 0.0);
        outline(content, path);
        content.stroke();
    }
}

fn outline(content: &mut Content, path: &BezPath) {
    let p = |p: Point| (p.x as f32, p.y as f32);
    let mut last = Point::ZERO;
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(a) => {
                content.move_to(p(a).0, p(a).1);
                last = a;
            }
            PathEl::LineTo(a) => {
                content.line_to(p(a).0, p(a).1);
                last = a;
            }
            PathEl::QuadTo(a, b) => {
                let (c, d) = (last + (a - last) * (2.0 / 3.0), b + (a - b) * (2.0 / 3.0));
                content.cubic_to(p(c).0, p(c).1, p(d).0, p(d).1, p(b).0, p(b).1);
                last = b;
            }
            PathEl::CurveTo(a, b, c) => {
                content.cubic_to(p(a).0, p(a).1, p(b).0, p(b).1, p(c).0, p(c).1);
                last = c;
            }
            PathEl::ClosePath => {
                content.close_path();
            }
        }
    }
}

fn words(content: &mut Content, at: Point, words: &str, kind: Type, anchor: Anchor, turn: f64) {
    let wide = text::width(kind, words);
    let back = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5 * wide,
        Anchor::End => wide,
    };
    let place = Affine::translate(at.to_vec2()) * crate::draw::extent::rotation(turn) * Affine::translate((-back, 0.0));
    let letters = letters(style::letter(kind).face, words, kind.size());
    outline(content, &(place * letters));
    content.fill_nonzero();
}

/// The outlines of a line of words, its base line along x, y down.
fn letters(face: Face, words: &str, size: f64) -> BezPath {
    let mut path = BezPath::new();
    let Ok(font) = ttf_parser::Face::parse(text::face_bytes(face), 0) else { return path };
    let scale = size / f64::from(font.units_per_em());
    let mut x = 0.0;
    for letter in words.chars() {
        let glyph = font.glyph_index(letter).unwrap_or(ttf_parser::GlyphId(0));
        let mut pen = Pen { path: &mut path, x, scale };
        font.outline_glyph(glyph, &mut pen);
        x += f64::from(font.glyph_hor_advance(glyph).unwrap_or(0)) * scale;
    }
    path
}

struct Pen<'a> {
    path: &'a mut BezPath,
    x: f64,
    scale: f64,
}

impl Pen<'_> {
    fn at(&self, x: f32, y: f32) -> Point {
        Point::new(self.x + f64::from(x) * self.scale, -f64::from(y) * self.scale)
    }
}

impl ttf_parser::OutlineBuilder for Pen<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.at(x, y));
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.at(x, y));
    }
    fn quad_to(&mut self, a: f32, b: f32, x: f32, y: f32) {
        self.path.quad_to(self.at(a, b), self.at(x, y));
    }
    fn curve_to(&mut self, a: f32, b: f32, c: f32, d: f32, x: f32, y: f32) {
        self.path.curve_to(self.at(a, b), self.at(c, d), self.at(x, y));
    }
    fn close(&mut self) {
        self.path.close_path();
    }
}
