//! What stands round a film's picture, and the sheets that a stencil or a block is cut by. The film's furniture is black and says everything
//! that is needed beside the screen: which ink, which mesh, how large, which way up.

use crate::draw::dimension;
use crate::draw::sheet::{Anchor, Draw, Fill, Line, Point, Rect, Shape, Sheet, Type};
use crate::draw::text;
use crate::draw::title::{self, MARGIN};
use crate::print::dots::Tone;
use crate::print::mesh::Mesh;
use crate::units::show::{self, Style};
use crate::units::{CM, MM, PER_CM, Q};
use kurbo::{Affine, BezPath};

/// What a film is for.
#[derive(Clone, Debug)]
pub struct Words<'a> {
    /// The plan's title.
    pub title: &'a str,
    pub ink: &'a str,
    /// Which pull, from 1, of how many.
    pub number: usize,
    pub of: usize,
    /// Width and height of the picture as printed, mm.
    pub size: (f64, f64),
    /// How that stands to the size as worn.
    pub sized: &'a str,
    pub mesh: Option<Mesh>,
    pub tone: Tone,
    pub style: Style,
}

/// The furniture and where the pictures go.
pub struct Laid {
    pub sheet: Sheet,
    pub picture: Rect,
    pub wedge: Rect,
}

/// Room beside, above and below the picture.
const SIDE: f64 = 22.0;
const ABOVE: f64 = 42.0;
const BELOW: f64 = 58.0;
/// From the picture's edge to the middle of a registration mark.
const OUT: f64 = 12.0;
/// Steps of the wedge and the side of one.
pub const STEPS: usize = 11;
const STEP: f64 = 9.0;
/// Narrowest film, so that wedge and ruler find room.
const LEAST: f64 = 130.0;

/// The film of one ink without its pictures.
pub fn laid(words: &Words) -> Laid {
    let (w, h) = words.size;
    let width = (w + 2.0 * SIDE).max(LEAST);
    let height = h + ABOVE + BELOW;
    let name = if words.number == 1 { "film".to_string() } else { format!("film-{}", words.number) };
    let describe = format!("Film for {}, {} of {}, at full size.", words.ink, words.number, words.of);
    let mut sheet =
        Sheet::new(&name, &format!("Film {} of {}: {}", words.number, words.of, words.ink), &describe, width, height);
    sheet.scale = Some(1.0);
    let picture = Rect::from_origin_size(((width - w) / 2.0, ABOVE), (w, h));
    head(&mut sheet, words);
    marks(&mut sheet, picture);
    let wedge = Rect::from_origin_size((MARGIN, picture.y1 + 24.0), (STEP * STEPS as f64, STEP));
    foot(&mut sheet, words, wedge);
    Laid { sheet, picture, wedge }
}

fn head(sheet: &mut Sheet, words: &Words) {
    let wide = sheet.width - 2.0 * MARGIN;
    let first = format!("{} · ink {} of {}: {}", words.title, words.number, words.of, words.ink);
    sheet.words(Type::Strong, Anchor::Start, (MARGIN, 11.0), text::shortened(Type::Strong, &first, wide));
    let screen = format!("{} · {}", mesh_words(words.mesh, words.style), tone_words(words.tone, words.style));
    sheet.words(Type::Small, Anchor::Start, (MARGIN, 15.6), text::shortened(Type::Small, &screen, wide));
    sheet.words(Type::Small, Anchor::Start, (MARGIN, 19.6), text::shortened(Type::Small, words.sized, wide));
}

/// The screen in words.
pub fn mesh_words(mesh: Option<Mesh>, style: Style) -> String {
    match mesh {
        Some(mesh) => {
            format!("mesh {}, thread {:.0} µm", show::of(Q::new(mesh.count, &PER_CM), &PER_CM, style), mesh.thread)
        }
        None => "no mesh".into(),
    }
}

/// The dots in words.
pub fn tone_words(tone: Tone, style: Style) -> String {
    match tone {
        Tone::Solid => "flat areas, mesh square to the frame".into(),
        Tone::Rows { ruling, angle, .. } => format!(
            "{} rows of dots at {}°",
            show::of(Q::new(ruling * 10.0, &PER_CM), &PER_CM, style),
            show::number(angle)
        ),
        Tone::Scattered { grain } => format!("scattered dots of {}", show::of(Q::new(grain, &MM), &MM, style)),
    }
}

/// Registration marks in the middle of each side, with lines on the picture's centre lines, and its corners.
fn marks(sheet: &mut Sheet, picture: Rect) {
    let middle = picture.center();
    let (left, right, top, low) = (picture.x0 - OUT, picture.x1 + OUT, picture.y0 - OUT, picture.y1 + OUT);
    for (x, y) in [(middle.x, top), (middle.x, low), (left, middle.y), (right, middle.y)] {
        mark(sheet, Point::new(x, y));
    }
    // the centre lines reach from the marks to the picture
    for (from, to) in [
        ((middle.x, top + 6.0), (middle.x, picture.y0 - 1.0)),
        ((middle.x, low - 6.0), (middle.x, picture.y1 + 1.0)),
        ((left + 6.0, middle.y), (picture.x0 - 1.0, middle.y)),
        ((right - 6.0, middle.y), (picture.x1 + 1.0, middle.y)),
    ] {
        sheet.line(Line::Detail, from, to);
    }
    for (x, sx) in [(picture.x0, -1.0), (picture.x1, 1.0)] {
        for (y, sy) in [(picture.y0, -1.0), (picture.y1, 1.0)] {
            sheet.line(Line::Detail, (x + 2.0 * sx, y), (x + 7.0 * sx, y));
            sheet.line(Line::Detail, (x, y + 2.0 * sy), (x, y + 7.0 * sy));
        }
    }
}

/// A registration mark: a cross in a ring, two quarters filled.
fn mark(sheet: &mut Sheet, at: Point) {
    sheet.circle(Line::Detail, at, 4.0);
    sheet.line(Line::Detail, (at.x - 6.0, at.y), (at.x + 6.0, at.y));
    sheet.line(Line::Detail, (at.x, at.y - 6.0), (at.x, at.y + 6.0));
    for start in [0.0, 180.0f64] {
        let mut quarter = BezPath::new();
        quarter.move_to(at);
        let arc = kurbo::Arc::new(at, (2.4, 2.4), start.to_radians(), std::f64::consts::FRAC_PI_2, 0.0);
        for (i, element) in arc.to_path(0.001).elements().iter().enumerate() {
            match element {
                kurbo::PathEl::MoveTo(p) if i == 0 => quarter.line_to(*p),
                other => quarter.push(*other),
            }
        }
        quarter.close_path();
        sheet.area(Fill::Ink, None, quarter);
    }
}

fn foot(sheet: &mut Sheet, words: &Words, wedge: Rect) {
    sheet.rect(Line::Detail, wedge);
    for step in 0..STEPS {
        let x = wedge.x0 + (step as f64 + 0.5) * STEP;
        sheet.words(Type::Note, Anchor::Middle, (x, wedge.y1 + 3.4), format!("{}", 100 * step / (STEPS - 1)));
    }
    let beside = wedge.x1 + 3.0;
    let room = sheet.width - MARGIN - beside;
    if room > 18.0 {
        let says = "ink in 100: the washed-out screen shows each step";
        text::paragraph(sheet, Type::Note, (beside, wedge.y0), room, says);
    }
    let (bar, step) = if words.style == Style::Inch { (101.6, 25.4) } else { (100.0, 10.0) };
    let y = wedge.y1 + 7.5;
    dimension::scale_bar(sheet, (MARGIN, y), 1.0, step, (bar / step) as usize, |i| {
        let ends = i == 0 || (i as f64 * step - bar).abs() < 0.1;
        if ends { show::of(Q::new(i as f64 * step, &CM) * 0.1, &CM, words.style) } else { String::new() }
    });
    let says = "Measure this bar. Printed side on the coated screen: from that side the words read right.";
    let wide = sheet.width - 2.0 * MARGIN;
    sheet.words(Type::Note, Anchor::Start, (MARGIN, y + 8.6), text::shortened(Type::Note, says, wide));
    let care = "Ink: air the room, cure and clean by its maker's sheet; local codes and licensed practice come first.";
    sheet.words(Type::Note, Anchor::Start, (MARGIN, y + 12.2), text::shortened(Type::Note, care, wide));
}

/// A stencil or block to cut.
pub struct Cutting<'a> {
    pub words: Words<'a>,
    /// What is cut, in mm of the picture; `at` is where its top left corner lies (a frame makes it below 0).
    pub outline: BezPath,
    pub at: Point,
    /// A block is cut in reverse: what stands prints.
    pub block: bool,
    /// Bridges from sheet to sheet, mm of the picture.
    pub bridges: Vec<(Point, Point)>,
    /// Width of bridges and walls.
    pub wall: f64,
    /// What to say of it, line by line.
    pub notes: Vec<String>,
}

/// The sheet to cut a stencil or a block by, at full size.
pub fn cutting(cutting: &Cutting) -> Sheet {
    let words = &cutting.words;
    let (w, h) = words.size;
    let width = (w + 2.0 * SIDE).max(150.0);
    let what = if cutting.block { "block" } else { "stencil" };
    let name = if words.number == 1 { "film".to_string() } else { format!("film-{}", words.number) };
    let title = format!("{} {} of {}: {}", capital(what), words.number, words.of, words.ink);
    let describe = format!("Outline of the {what} for {}, at full size.", words.ink);
    let mut sheet = Sheet::new(&name, &title, &describe, width, 100.0);
    sheet.scale = Some(1.0);
    let lead = if cutting.block {
        "Drawn in reverse, as the block is cut: the dark parts stand and print. Glue this sheet on the block, or rub it down."
    } else {
        "The tinted parts are cut out. Bridges hold what would fall out; leave them standing."
    };
    let top = title::head(&mut sheet, &format!("{lead} {}", words.sized)) + 18.0;
    let picture = Rect::from_origin_size(((width - w) / 2.0, top), (w, h));
    marks(&mut sheet, picture);
    let place = Affine::translate(picture.origin().to_vec2() + cutting.at.to_vec2());
    let fill = if cutting.block { Fill::Ink } else { Fill::Doubt };
    sheet.group(what, Some(&title), place, |g| g.area(fill, Some(Line::Cut), cutting.outline.clone()));
    for (at, (from, to)) in cutting.bridges.iter().enumerate().take(60) {
        let middle = from.midpoint(*to).to_vec2() + picture.origin().to_vec2();
        sheet.words(Type::Figure, Anchor::Middle, (middle.x, middle.y + 0.9), format!("{}", at + 1));
    }
    let mut y = picture.y1 + 22.0;
    for note in &cutting.notes {
        y = text::paragraph(&mut sheet, Type::Body, (MARGIN, y), width - 2.0 * MARGIN, note) + 0.8;
    }
    let hazards = [crate::draw::caution::Hazard::Blades, crate::draw::caution::Hazard::Ink];
    y = crate::draw::caution::draw(&mut sheet, (MARGIN, y + 2.0), width - 2.0 * MARGIN, &hazards);
    sheet.height = y + title::FOOT + MARGIN + 2.0;
    title::foot(&mut sheet, "Print at 100 %, never fitted to the page.");
    sheet
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// The film's picture as shapes, for those who cut it from masking film.
pub fn with_shapes(mut laid: Laid, outline: BezPath, line: Option<Line>) -> Sheet {
    let place = Affine::translate(laid.picture.origin().to_vec2());
    let title = laid.sheet.title.clone();
    laid.sheet.group("picture", Some(&title), place, |g| match line {
        Some(line) => g.path(line, outline),
        None => g.area(Fill::Ink, None, outline),
    });
    // steps of grey stand for the dots
    for step in 0..STEPS {
        let grey = 255 - (255 * step / (STEPS - 1)) as u8;
        let x = laid.wedge.x0 + step as f64 * STEP;
        let square = Rect::new(x, laid.wedge.y0, x + STEP, laid.wedge.y1);
        laid.sheet.area(Fill::Rgb(grey, grey, grey), None, square.to_path(0.1));
    }
    laid.sheet
}
