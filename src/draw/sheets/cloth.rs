//! The cloth to look at: off the loom and washed side by side, its back, against a window, and a square at true size to hold
//! beside the real one. Takes looks; the pictures are made by [`crate::draw::picture`].

use kurbo::{Point, Rect};
use std::sync::Arc;

use crate::draw::picture::{ClothLook, Press, Unseen, View, against_the_light, cloth_png};
use crate::draw::sheet::{Anchor, Draw, Item, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::title::{self, FOOT, MARGIN};
use crate::draw::{dimension, text};
use crate::units::show::{self, Style};
use crate::units::{CM, MM, Q};

/// What the sheet is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Seen<'a> {
    /// What cloth it is: "plain weave, natural".
    pub name: &'a str,
    /// As it comes off the loom, if that is to be shown.
    pub off: Option<&'a ClothLook>,
    /// Washed and dry.
    pub washed: &'a ClothLook,
    /// Figures to set beside it: name and value in words.
    pub facts: &'a [(String, String)],
    pub style: Style,
}

/// Side of a picture and of the square at true size, mm on paper.
const SIDE: f64 = 88.0;
const TRUE: f64 = 50.0;
/// Ends seen across a picture.
const ENDS: f64 = 26.0;
/// Dots an inch of the pictures, and of the one at true size.
const DOTS: f64 = 250.0;
const TRUE_DOTS: f64 = 400.0;

/// The sheet. Refuses a look that is out of range.
pub fn sheet(seen: &Seen) -> Result<Sheet, Unseen> {
    let describe = format!("Pictures of the cloth: {}", seen.name);
    let mut sheet = Sheet::new("cloth", "The cloth", &describe, 210.0, 100.0);
    let top =
        title::head(&mut sheet, &format!("{}. Drawn from the plan's figures before a thread is spun.", seen.name));
    let right = sheet.width - MARGIN - SIDE;
    // One magnification for all, so that the wash can be seen.
    let scale = SIDE / (ENDS * seen.washed.end_spacing);
    let view = |look: &ClothLook| {
        let pixels = (SIDE / 25.4 * DOTS).round() as usize;
        View { width: pixels, height: pixels, pixel: 25.4 / DOTS / scale, ..View::of_ends(look, ENDS, pixels, pixels) }
    };
    let face = |look: &ClothLook| cloth_png(look, &view(look), Press::Fast, false);
    let window = against_the_light(seen.washed, &view(seen.washed))?;
    let open = format!("against a window: {} % of it is open", show::number(window.open * 100.0));
    let mut pictures = Vec::new();
    match seen.off {
        Some(off) => {
            pictures.push((face(off)?, "off the loom, before washing"));
            pictures.push((face(seen.washed)?, "washed and dry, at the same scale"));
        }
        None => pictures.push((face(seen.washed)?, "the face, washed and dry")),
    }
    pictures.push((
        cloth_png(seen.washed, &view(seen.washed).back(), Press::Fast, false)?,
        "the back, turned over sideways",
    ));
    pictures.push((window.pixels.png(Press::Fast, None), &open));
    let place = |n: usize| (if n.is_multiple_of(2) { MARGIN } else { right }, top + (n / 2) as f64 * (SIDE + 7.0));
    let number = pictures.len();
    for (n, (png, words)) in pictures.into_iter().enumerate() {
        picture(&mut sheet, place(n), SIDE, png, words);
    }
    let (x, y) = place(number);
    let below = true_square(&mut sheet, seen, (x, y))?;
    let beside = if number % 2 == 0 { Point::new(x + TRUE + 8.0, y) } else { Point::new(x, below + 1.0) };
    bar(&mut sheet, seen.style, scale, beside);
    facts(&mut sheet, seen, beside + kurbo::Vec2::new(0.0, 7.0));
    sheet.height = below.max(y + if number % 2 == 0 { 0.0 } else { SIDE + 6.0 }) + 2.0 + FOOT + MARGIN;
    title::foot(&mut sheet, &format!("pictures {} : 1, the square full size", show::number(scale)));
    Ok(sheet)
}

fn picture(sheet: &mut Sheet, (x, y): (f64, f64), side: f64, png: Vec<u8>, words: &str) {
    let at = Rect::new(x, y, x + side, y + side);
    sheet.items().push(Item::Picture { at, png: Arc::new(png), describe: words.to_string() });
    sheet.rect(Line::Detail, at);
    sheet.words(Type::Small, Anchor::Start, (x, text::base(Type::Small, y + side + 0.8)), words);
}

/// A square at the cloth's own size. Gives the y below its words.
fn true_square(sheet: &mut Sheet, seen: &Seen, at: (f64, f64)) -> Result<f64, Unseen> {
    let view = View::true_size(TRUE, TRUE_DOTS);
    let png = cloth_png(seen.washed, &view, Press::Fast, true)?;
    picture(sheet, at, TRUE, png, "full size: print at 100 % and hold it to the real cloth");
    Ok(at.1 + TRUE + 5.0)
}

/// A scale bar of the enlarged pictures.
fn bar(sheet: &mut Sheet, style: Style, scale: f64, at: Point) {
    let step = [0.5, 1.0, 2.0, 5.0].into_iter().find(|s| s * scale >= 5.0).unwrap_or(10.0);
    let words = |i: usize| match i {
        0 => "0".to_string(),
        1..4 => String::new(),
        i => show::of(Q::new(step * i as f64, &MM), if step < 5.0 { &MM } else { &CM }, style),
    };
    dimension::scale_bar(sheet, at, scale, step, 4, words);
}

fn facts(sheet: &mut Sheet, seen: &Seen, at: Point) {
    let mut table = Table::new(vec![Column::new("", 46.0, Align::Start), Column::new("", SIDE - 46.0, Align::Start)]);
    for (name, value) in seen.facts {
        table.row([name.as_str(), value.as_str()]);
    }
    table.draw(sheet, at);
}
