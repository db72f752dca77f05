//! How to print it: what goes where, what is too fine, which screen, how much ink, what beats, in which order, and the cautions.

use crate::chain::prints::{Place, Prints};
use crate::draw::caution::{self, Hazard};
use crate::draw::picture::{Pixels, Press};
use crate::draw::proof;
use crate::draw::sheet::{Anchor, Draw, Item, Line, Rect, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::print::Method;
use crate::print::beat::{self, Beat};
use crate::print::dots::Tone;
use crate::units::show::{self, Style};
use crate::units::{CM, G, MM, PER_CM, Q};
use kurbo::Point;
use std::sync::Arc;

use super::film::{mesh_words, tone_words};

/// Picture of what goes where, mm on paper.
const PICTURE: f64 = 104.0;
/// Places shown with a number.
const SHOWN: usize = 9;

/// The sheet. `cloth`: sRGB of the cloth.
pub fn sheet(prints: &Prints, cloth: [u8; 3], style: Style) -> Sheet {
    let what = match prints.method {
        Method::Screen => "with a screen",
        Method::Stencil => "through a stencil",
        Method::Block => "with a block",
    };
    let describe =
        "What is printed in which ink, what is too fine for this cloth, the screen, the ink, and the order of work.";
    let mut sheet = title::page(Paper::A4, "film-how", &format!("How to print it {what}"), describe);
    let top = title::head(&mut sheet, &sized(prints, style));
    let below = picture(&mut sheet, prints, cloth, top);
    let x = MARGIN + PICTURE + 5.0;
    let right = facts(&mut sheet, prints, (x, top), style);
    let mut y = places(&mut sheet, prints, (MARGIN, below + 2.0), style).max(right) + 3.0;
    y = inks(&mut sheet, prints, y, style) + 3.0;
    y = beats(&mut sheet, prints, y, style) + 2.0;
    y = steps(&mut sheet, prints, y, style) + 2.0;
    let wide = sheet.width - 2.0 * MARGIN;
    let hazards: &[Hazard] =
        if prints.method == Method::Screen { &[Hazard::Ink] } else { &[Hazard::Blades, Hazard::Ink] };
    y = caution::draw(&mut sheet, (MARGIN, y), wide, hazards);
    sheet.height = sheet.height.max(y + title::FOOT + MARGIN + 2.0);
    title::foot(&mut sheet, "A test strip on your own cloth replaces every limit here.");
    sheet
}

fn mm(value: f64, style: Style) -> String {
    show::of(Q::new(value, &MM), &MM, style)
}
fn cm(value: f64, style: Style) -> String {
    show::of(Q::new(value / 10.0, &CM), &CM, style)
}

/// How the size as printed stands to the size as worn.
pub fn sized(prints: &Prints, style: Style) -> String {
    let (worn, size) = (prints.worn, prints.size);
    let size_words = |(w, h): (f64, f64)| format!("{} by {}", cm(w, style), cm(h, style));
    let larger = |a: f64, b: f64| 100.0 * (a / b - 1.0);
    let why = if prints.before_wash { "printed before the wash" } else { "for what later washes still take" };
    format!(
        "Printed {}, so that it is {} as worn: {:.1} % wider and {:.1} % higher, {why}.",
        size_words(size),
        size_words(worn),
        larger(size.0, worn.0),
        larger(size.1, worn.1)
    )
}

/// The proof with the places that are too fine. Gives the y below.
fn picture(sheet: &mut Sheet, prints: &Prints, cloth: [u8; 3], top: f64) -> f64 {
    let shape = prints.size.1 / prints.size.0;
    let wide = PICTURE.min(110.0 / shape);
    let at = Rect::from_origin_size((MARGIN, top), (wide, wide * shape));
    let png = Arc::new(proof::png(&prints.parted, cloth));
    sheet.items().push(Item::Picture { at, png, describe: "what goes where, in flat colours".into() });
    sheet.rect(Line::Detail, at);
    let scale = wide / prints.size.0;
    let mut number = 0;
    for place in prints.places.iter().take(40) {
        let [x0, y0, x1, y1] = place.bounds.map(|v| v * scale);
        let middle = Point::new(at.x0 + (x0 + x1) / 2.0, at.y0 + (y0 + y1) / 2.0);
        let radius = (libm::hypot(x1 - x0, y1 - y0) / 2.0 + 1.0).min(9.0);
        let line = if place.is_tip { Line::Doubt } else { Line::Danger };
        if at.inflate(3.0, 3.0).contains(middle) {
            sheet.circle(line, middle, radius);
            if !place.is_tip && number < SHOWN {
                number += 1;
                let beside = Point::new(middle.x + radius + 0.6, middle.y + 0.9);
                sheet.words(Type::Figure, Anchor::Start, beside, format!("{number}"));
            }
        }
    }
    at.y1
}

/// What is said of the places. Gives the y below.
fn places(sheet: &mut Sheet, prints: &Prints, at: (f64, f64), style: Style) -> f64 {
    let lost: Vec<&Place> = prints.places.iter().filter(|p| !p.is_tip).collect();
    let tips = prints.places.len() - lost.len();
    let mut words = match lost.len() {
        0 if prints.tone == Tone::Solid => "Nothing in it is too fine for this cloth.".to_string(),
        0 => shades(prints),
        n => {
            let finest = lost.iter().map(|p| p.width).fold(f64::INFINITY, f64::min);
            format!("Ringed: {n} places too fine for this cloth, down to {}.", mm(finest, style))
        }
    };
    if let (true, Some(works)) = (!lost.is_empty(), prints.works_at) {
        words += &format!(" It works from a width of {} as worn, or with those lines drawn thicker.", cm(works, style));
    }
    if tips > 0 {
        words += &format!(" Dotted: {tips} points that end a little shorter.");
    }
    text::paragraph(sheet, Type::Small, at, PICTURE, &words)
}

/// Which shades hold as dots: those whose dot, or whose gap, is no smaller than the smallest.
fn shades(prints: &Prints) -> String {
    let Tone::Rows { ruling, .. } = prints.tone else {
        return "Shades are printed in scattered dots of the smallest size that holds.".into();
    };
    let least = std::f64::consts::FRAC_PI_4 * (prints.dot * ruling) * (prints.dot * ruling);
    if least >= 0.5 {
        return "The rows of dots are too close for this cloth: no shade holds as dots. Take fewer rows.".into();
    }
    let percent = 100.0 * least;
    format!(
        "Shades from {percent:.0} to {:.0} % hold as dots; lighter ones vanish, darker ones run shut.",
        100.0 - percent
    )
}

fn facts(sheet: &mut Sheet, prints: &Prints, at: (f64, f64), style: Style) -> f64 {
    let wide = sheet.width - MARGIN - at.0;
    let mut table =
        Table::new(vec![Column::new("", 0.52 * wide, Align::Start), Column::new("", 0.48 * wide, Align::Start)]);
    table.part("What cloth and tool hold");
    table.row(["finest line", &mm(prints.line, style)]);
    table.row(["narrowest gap", &mm(prints.gap, style)]);
    table.row(["smallest dot", &mm(prints.dot, style)]);
    table.row(["ink spreads by", &mm(prints.gain, style)]);
    if let Some(works) = prints.works_at {
        table.row(["the artwork works from", &format!("{} wide", cm(works, style))]);
    }
    if let Some(mesh) = prints.mesh {
        table.part("The screen");
        table.row(["mesh", &show::of(Q::new(mesh.count, &PER_CM), &PER_CM, style)]);
        table.row(["thread", &format!("{:.0} µm", mesh.thread)]);
        table.row(["opening", &format!("{:.0} µm", mesh.opening())]);
        table.row(["open area", &format!("{:.0} %", 100.0 * mesh.open())]);
        table.row(["its own finest line", &mm(mesh.line(), style)]);
    }
    table.part("Ink and dots");
    table.row(["ink laid, in theory", &format!("{:.0} cm³/m²", prints.laid)]);
    table.row(["taken by cloth and waste", &format!("{} times that", show::number(prints.take))]);
    table.row(["shades", &tone_words(prints.tone, style)]);
    if prints.parted.plates.len() > 1 && prints.method == Method::Screen && prints.tone == Tone::Solid {
        table.row(["inks run under by", &mm(prints.trap, style)]);
    }
    table.draw(sheet, at)
}

fn inks(sheet: &mut Sheet, prints: &Prints, y: f64, style: Style) -> f64 {
    let mut table = Table::new(vec![
        Column::new("pull", 12.0, Align::End),
        Column::new("ink", 54.0, Align::Start),
        Column::new("covers", 22.0, Align::Point),
        Column::new("a pull, in theory", 32.0, Align::Point),
        Column::new("with cloth and waste", 36.0, Align::Point),
        Column::new("for all", 30.0, Align::Point),
    ]);
    let grams = |g: f64| show::of(Q::new(g, &G), &G, style);
    for (at, ink) in prints.inks().iter().enumerate() {
        let (theory, taken) = prints.ink(at);
        let name = if ink.opaque { format!("{}, opaque", ink.name) } else { ink.name.clone() };
        let share = format!("{:.0} %", 100.0 * prints.parted.plates[at].share());
        table.row([format!("{}", at + 1), name, share, grams(theory), grams(taken), grams(taken * prints.how_many)]);
    }
    table.draw(sheet, (MARGIN, y))
}

/// Side of the picture of a beat on paper, and the millimetres it shows.
const PATCH: f64 = 30.0;

/// What beats, said and shown at true size.
fn beats(sheet: &mut Sheet, prints: &Prints, y: f64, style: Style) -> f64 {
    let strong: Vec<&Beat> = prints.beats.iter().filter(|b| b.strength >= beat::SEEN).collect();
    let Some(worst) = prints.beats.first() else {
        let words = "No stripes are foreseen: dots, screen and cloth are far enough from each other.";
        return text::paragraph(sheet, Type::Small, (MARGIN, y), sheet.width - 2.0 * MARGIN, words);
    };
    if strong.is_empty() {
        let words = format!(
            "Stripes are foreseen to be too weak to see: the strongest, of {} and {}, would stand {} apart.",
            worst.between[0],
            worst.between[1],
            mm(worst.period(), style)
        );
        return text::paragraph(sheet, Type::Small, (MARGIN, y), sheet.width - 2.0 * MARGIN, &words);
    }
    let room = sheet.width - 2.0 * MARGIN - PATCH - 5.0;
    let mut low = y;
    for one in strong.iter().take(3) {
        let dots = one.between.contains(&"the dots");
        let mend = if dots {
            "Turn the film, or take another ruling."
        } else {
            "Turn the screen on the cloth by some degrees."
        };
        let (a, b) = (one.between[0], one.between[1]);
        let words = format!("Stripes {} apart may show, where {a} and {b} beat. {mend}", mm(one.period(), style));
        low = text::paragraph(sheet, Type::Small, (MARGIN, low), room, &words) + 0.6;
    }
    let at = Rect::from_origin_size((sheet.width - MARGIN - PATCH, y), (PATCH, PATCH));
    sheet.items().push(Item::Picture {
        at,
        png: Arc::new(patch(worst)),
        describe: "the foreseen stripes at true size".into(),
    });
    sheet.rect(Line::Detail, at);
    sheet.words(Type::Note, Anchor::End, (at.x1, at.y1 + 3.2), "foreseen stripes, true size");
    low.max(at.y1 + 4.0)
}

/// The stripes of a beat as shades.
fn patch(beat: &Beat) -> Vec<u8> {
    let side = 180;
    let Ok(mut pixels) = Pixels::new(side, side, [255; 4]) else { return Vec::new() };
    let step = PATCH / side as f64;
    for (i, pixel) in pixels.rgba.chunks_exact_mut(4).enumerate() {
        let (x, y) = ((i % side) as f64 * step, -((i / side) as f64) * step);
        let wave = libm::cos(std::f64::consts::TAU * (beat.at.x * x + beat.at.y * y));
        let grey = (190.0 + 150.0 * beat.strength.min(0.4) * wave) as u8;
        pixel[..3].fill(grey);
    }
    pixels.png(Press::Fast, None)
}

fn steps(sheet: &mut Sheet, prints: &Prints, y: f64, style: Style) -> f64 {
    let wash = if prints.before_wash {
        "Iron the cloth smooth; it is washed after printing."
    } else {
        "Wash the cloth first: size, wax and softener keep ink off. Dry and iron it."
    };
    let tool = match prints.method {
        Method::Screen => format!(
            "Print the films on clear sheet at 100 %, measure the bar, and expose one screen an ink ({}).",
            mesh_words(prints.mesh, style)
        ),
        Method::Stencil => "Cut the stencils from card or film on a mat; the bridges stay.".into(),
        Method::Block => "Cut the blocks; clear wide hollows deeper than narrow ones.".into(),
    };
    let lay = "Lay the piece flat on a padded table, thread straight, and mark it with the paper template.";
    let pull = match prints.method {
        Method::Screen => {
            "Print in the order of the table, lightest first; on open cloth pull twice. Let each ink dry before the next."
        }
        Method::Stencil => "Dab from the edge inwards with little ink on the brush, in the order of the table.",
        Method::Block => "Ink thinly and evenly, press straight down, lift straight up, in the order of the table.",
    };
    let cure = "Dry, then fix by the ink maker's time and heat; then wash a scrap ten times before you trust it.";
    let mut low = y;
    for (at, words) in [wash, &tool, lay, pull, cure].iter().enumerate() {
        sheet.words(Type::Label, Anchor::Start, (MARGIN, text::base(Type::Label, low)), format!("{}", at + 1));
        low = text::paragraph(sheet, Type::Small, (MARGIN + 5.0, low), sheet.width - 2.0 * MARGIN - 5.0, words);
    }
    low
}
