//! The print as it will look: the whole of it on this cloth as it is read from a step away, and close up, fresh and after many washes.
//! Takes the cloth's looks and the plates; the pictures are made by [`crate::draw::picture`].

use crate::chain::prints::Prints;
use crate::draw::caution::{self, Hazard};
use crate::draw::dimension;
use crate::draw::picture::{ClothLook, Coat, Ground, Layer, Press, Unseen, View, printed};
use crate::draw::sheet::{Anchor, Draw, Item, Line, Rect, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, FOOT, MARGIN};
use crate::print::dots::{Raster, Tone};
use crate::print::plate::Plate;
use crate::units::show::{self, Style};
use crate::units::{CM, MM, Q};
use std::sync::Arc;

/// What the sheet is drawn from.
pub struct Seen<'a> {
    pub prints: &'a Prints,
    /// The cloth as it is printed on.
    pub before: &'a ClothLook,
    /// The cloth as worn.
    pub worn: &'a ClothLook,
    pub facts: &'a [(String, String)],
    pub style: Style,
}

/// Width of the large picture and side of the small ones, mm on paper.
const WIDE: f64 = 190.0;
const CLOSE: f64 = 92.0;
/// Greatest height of the large picture, so that the page is no longer than paper is.
const LOW: f64 = 104.0;
/// Bare cloth round the print in the large picture, of its width.
const ROUND: f64 = 0.06;
/// Pixels across them: what an eye parts a step away, and close up.
const FAR_PIXELS: usize = 900;
const NEAR_PIXELS: usize = 640;
/// Threads across a close look.
const THREADS: f64 = 44.0;
/// What shows through the gaps: a light table, or skin.
const BELOW: Ground = Ground::Colour([176, 164, 148]);
/// How far into the cloth ink is pressed, as a share of its thickness, before its own volume is counted; a choice after looking.
const PRESSED: f64 = 0.36;

/// The sheet. Refuses a look that is out of range.
pub fn sheet(seen: &Seen) -> Result<Sheet, Unseen> {
    let prints = seen.prints;
    let mut sheet = Sheet::new(
        "preview",
        "The print on this cloth",
        "Pictures of the print as it will look on this cloth.",
        210.0,
        100.0,
    );
    let lead = "Drawn from the plan's figures: ink on the high threads, missing in the gaps, spread past its edges. How much a wash \
                takes is a guess until a scrap has been washed.";
    let top = title::head(&mut sheet, lead);
    let plates = spread(prints);
    let shape = prints.worn.1 / prints.worn.0;
    // a tall print is drawn narrower, so that the page holds it
    let wide = WIDE.min(LOW / (shape + 2.0 * ROUND) * (1.0 + 2.0 * ROUND));
    let far = Rect::from_origin_size(
        (MARGIN + (WIDE - wide) / 2.0, top),
        (wide, wide * (shape + 2.0 * ROUND) / (1.0 + 2.0 * ROUND)),
    );
    let png = whole(seen, &plates, far.height() / far.width())?;
    show_picture(&mut sheet, far, png, "as it is read from a step away, freshly printed");
    let paper = far.width() / (prints.worn.0 * (1.0 + 2.0 * ROUND));
    let words = format!("picture {} of its size", show::number((paper * 100.0).round() / 100.0));
    sheet.words(Type::Note, Anchor::End, (far.x1, far.y1 + 3.4), words);
    let y = far.y1 + 8.0;
    let place = busiest(prints);
    let pairs = [
        (
            seen.before,
            0.0,
            if prints.before_wash { "close up, fresh, cloth not yet washed" } else { "close up, freshly printed" },
        ),
        (seen.worn, 1.0, "the same place after many washes"),
    ];
    let zoom = CLOSE / (THREADS * seen.before.end_spacing);
    for (n, (look, worn, words)) in pairs.into_iter().enumerate() {
        let at = Rect::from_origin_size((MARGIN + n as f64 * (WIDE - CLOSE), y), (CLOSE, CLOSE));
        let png = close(prints, look, &plates, (place, worn), zoom)?;
        show_picture(&mut sheet, at, png, words);
    }
    let low = y + CLOSE + 6.0;
    let step = if zoom > 2.5 { 5.0 } else { 10.0 };
    dimension::scale_bar(&mut sheet, (MARGIN, low), zoom, step, 2, |i| {
        if i == 1 { String::new() } else { show::of(Q::new(i as f64 * step / 10.0, &CM), &CM, seen.style) }
    });
    let below = facts(&mut sheet, seen, (MARGIN + 60.0, low - 1.0));
    let below = caution::draw(&mut sheet, (MARGIN, below.max(low + 8.0) + 2.0), WIDE, &[Hazard::Ink]);
    sheet.height = below + FOOT + MARGIN + 2.0;
    title::foot(&mut sheet, "Small pictures at one scale, before and after.");
    Ok(sheet)
}

fn show_picture(sheet: &mut Sheet, at: Rect, png: Vec<u8>, words: &str) {
    sheet.items().push(Item::Picture { at, png: Arc::new(png), describe: words.to_string() });
    sheet.rect(Line::Detail, at);
    sheet.words(Type::Small, Anchor::Start, (at.x0, text::base(Type::Small, at.y1 + 0.8)), words);
}

/// The plates as ink lies: dots made, edges spread by the gain.
fn spread(prints: &Prints) -> Vec<Plate> {
    let one = |plate: &Plate| {
        let dots = match prints.tone {
            Tone::Solid => plate.clone(),
            tone => dotted(plate, prints.pixel, tone),
        };
        dots.grown(prints.gain / prints.pixel)
    };
    prints.parted.plates.iter().map(one).collect()
}

/// The plate in dots, one to a square.
fn dotted(plate: &Plate, pixel: f64, tone: Tone) -> Plate {
    let raster = Raster::new(plate, pixel, pixel, tone);
    let mut rows = vec![0; raster.row_bytes() * raster.height];
    raster.rows(0, &mut rows);
    let bytes = raster.row_bytes();
    Plate::of(raster.width, raster.height, |x, y| rows[y * bytes + x / 8] >> (7 - x % 8) & 1 == 1)
}

/// The ink for a look: `scale` is the cloth's size as seen over its size as printed.
fn coat(prints: &Prints, look: &ClothLook, plates: &[Plate], at: (f64, f64), scale: f64, worn: f64) -> Coat {
    let layer = |(ink, plate): (usize, &Plate)| {
        let ink = &prints.inks()[ink];
        Layer { plate: plate.clone(), rgb: ink.rgb, opaque: ink.opaque }
    };
    let film = prints.laid * prints.take / 1000.0;
    Coat {
        layers: plates.iter().enumerate().map(layer).collect(),
        pixel: prints.pixel * scale,
        at,
        reach: PRESSED * look.thickness() + film,
        worn,
    }
}

/// The whole print on its cloth.
fn whole(seen: &Seen, plates: &[Plate], shape: f64) -> Result<Vec<u8>, Unseen> {
    let prints = seen.prints;
    let around = ROUND * prints.size.0;
    let pixel = (prints.size.0 + 2.0 * around) / FAR_PIXELS as f64;
    let height = ((FAR_PIXELS as f64 * shape).round() as usize).max(1);
    let view = View {
        width: FAR_PIXELS,
        height,
        pixel,
        ground: BELOW,
        ..View::of_ends(seen.before, 10.0, FAR_PIXELS, height)
    };
    let ink = coat(prints, seen.before, plates, (around, around), 1.0, 0.0);
    printed(seen.before, &view, ink).map(|pixels| pixels.png(Press::Fast, None))
}

/// A close look at a place (mm as printed).
fn close(
    prints: &Prints,
    look: &ClothLook,
    plates: &[Plate],
    (place, worn): ((f64, f64), f64),
    zoom: f64,
) -> Result<Vec<u8>, Unseen> {
    let pixel = CLOSE / zoom / NEAR_PIXELS as f64;
    let view = View { pixel, ground: BELOW, ..View::of_ends(look, 10.0, NEAR_PIXELS, NEAR_PIXELS) };
    // the washed cloth has drawn together, and its print with it
    let scale = if worn > 0.0 { prints.worn.0 / prints.size.0 } else { 1.0 };
    let half = CLOSE / zoom / 2.0;
    let at = (half - place.0 * scale, half - place.1 * scale);
    printed(look, &view, coat(prints, look, plates, at, scale, worn)).map(|pixels| pixels.png(Press::Fast, None))
}

/// Where there is most to see: the place too fine for this cloth, or where most edges of most inks lie.
fn busiest(prints: &Prints) -> (f64, f64) {
    if let Some(place) = prints.places.iter().find(|place| !place.is_tip) {
        let [x0, y0, x1, y1] = place.bounds;
        return ((x0 + x1) / 2.0, (y0 + y1) / 2.0);
    }
    const GRID: usize = 24;
    let cells: Vec<Plate> = prints.parted.plates.iter().map(|plate| plate.reduced(GRID, GRID)).collect();
    let worth = |at: usize| -> u32 {
        let (x, y) = (at % GRID, at / GRID);
        let edge = |plate: &Plate| {
            let v = u32::from(plate.cover[at]);
            v.min(255 - v)
        };
        // the rim of the picture shows less of it
        let inner = (2..GRID - 2).contains(&x) && (2..GRID - 2).contains(&y);
        cells.iter().map(edge).sum::<u32>() * if inner { 2 } else { 1 }
    };
    let best = (0..GRID * GRID).max_by_key(|at| worth(*at)).unwrap_or(0);
    let middle = |n: usize, long: f64| (n as f64 + 0.5) / GRID as f64 * long;
    (middle(best % GRID, prints.size.0), middle(best / GRID, prints.size.1))
}

fn facts(sheet: &mut Sheet, seen: &Seen, at: (f64, f64)) -> f64 {
    let mut table = Table::new(vec![Column::new("", 58.0, Align::Start), Column::new("", 62.0, Align::Start)]);
    let mm = |v: f64| show::of(Q::new(v, &MM), &MM, seen.style);
    table.row(["finest line, narrowest gap", &format!("{}, {}", mm(seen.prints.line), mm(seen.prints.gap))]);
    table.row(["ink spreads by", &mm(seen.prints.gain)]);
    for (name, value) in seen.facts {
        table.row([name.as_str(), value.as_str()]);
    }
    table.draw(sheet, at)
}
