//! The lay: every piece where it falls on the cloth, to scale, with names, grain and selvedges, the length marked along the
//! edge and the waste shaded. Takes a layout as it was found; computes no layout and no length.

mod striped;

pub use striped::{Band, Stripes};

use kurbo::{Affine, Point, Rect, Shape};

use crate::draw::sheet::{Anchor, Draw, Fill, Item, Line, Sheet, Type, through};
use crate::draw::table::{Align, Column, Table};
use crate::draw::title::{self, FOOT, MARGIN, Paper};
use crate::draw::{dimension, text};
use crate::geom;
use crate::nest::{Job, Layout, Placement, Turn};
use crate::units::show::{self, Style};
use crate::units::{CM, MM, Q};

/// What the sheet is drawn from. `names` has one name for each of the job's pieces.
#[derive(Clone, Copy, Debug)]
pub struct Lay<'a> {
    pub job: &'a Job,
    pub layout: &'a Layout,
    pub names: &'a [String],
    /// Stripes the pieces are matched by.
    pub stripes: Option<&'a Stripes>,
    pub style: Style,
}

/// Scales a lay is drawn at: one millimetre on paper for so many of cloth.
const SCALES: [f64; 16] = [1.0, 2.0, 2.5, 4.0, 5.0, 7.5, 10.0, 12.5, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 100.0, 200.0];
/// Room above the cloth for its length, left of it for its width, below it for the marks along the edge.
const ABOVE: f64 = 13.0;
const LEFT: f64 = 13.0;
const BELOW: f64 = 9.0;

/// The lay on paper lying on its side.
pub fn sheet(lay: &Lay, paper: Paper) -> Sheet {
    let (height, width) = paper.size();
    let Layout { length, used, .. } = *lay.layout;
    let wide = lay.job.strip.width;
    let said = |mm: f64| centimetres(mm, lay.style);
    let taken = taken(length, lay.style);
    let describe = format!(
        "{} pieces laid on cloth {} wide; they take {} of its length",
        lay.layout.placements.len(),
        said(wide),
        taken
    );
    let mut sheet = Sheet::new("lay", "The lay", &describe, width, height);
    let lead = format!(
        "Washed and pressed cloth {} wide: {} of it, measured along the selvedge. Pieces are {} of this cloth; the shaded rest is \
         waste. The right side is up. Lay every piece with its grain arrow along the selvedge, seam allowances edge to edge.{}",
        said(wide),
        taken,
        per_cent(used),
        lay.stripes.map_or(String::new(), |stripes| format!(" {}", stripes.words))
    );
    let top = title::head(&mut sheet, &lead);
    let table = pieces(lay);
    let room = height - MARGIN - FOOT - top - ABOVE - BELOW - table.height() - 6.0;
    let over = (length / (width - 2.0 * MARGIN - LEFT)).max(wide / room.max(20.0));
    let ratio = SCALES.iter().copied().find(|s| *s >= over).unwrap_or_else(|| over.ceil());
    sheet.scale = Some(1.0 / ratio);
    let corner = Point::new(MARGIN + LEFT, top + ABOVE);
    cloth(&mut sheet, lay, corner, 1.0 / ratio);
    let end = corner.y + wide / ratio + BELOW + 4.0;
    table.draw(&mut sheet, (MARGIN, end));
    title::foot(&mut sheet, "Selvedges above and below; the warp runs from left to right.");
    sheet
}

/// The cloth with its selvedges, ends, measures and pieces.
fn cloth(sheet: &mut Sheet, lay: &Lay, corner: Point, scale: f64) {
    let size = (lay.layout.length * scale, lay.job.strip.width * scale);
    let face = Rect::from_origin_size(corner, size);
    match lay.stripes {
        Some(stripes) => striped::cloth(sheet, lay, stripes, face, scale),
        None => {
            sheet.area(Fill::Loss, None, face.to_path(0.1));
            dimension::hatch(sheet, &face.to_path(0.1), 2.2, 45.0);
        }
    }
    for (i, placement) in lay.layout.placements.iter().enumerate() {
        piece(sheet, lay, i, placement, corner, scale);
    }
    for y in [face.y0, face.y1] {
        sheet.line(Line::Selvedge, (face.x0, y), (face.x1, y));
    }
    for x in [face.x0, face.x1] {
        sheet.line(Line::Cut, (x, face.y0 - 2.5), (x, face.y1 + 2.5));
    }
    let (long, wide) = (taken(lay.layout.length, lay.style), centimetres(lay.job.strip.width, lay.style));
    dimension::horizontal(sheet, (face.x0, face.y0), (face.x1, face.y0), face.y0 - 7.0, &long);
    dimension::vertical(sheet, (face.x0, face.y1), (face.x0, face.y0), face.x0 - 7.0, &wide);
    marks(sheet, lay, face, scale);
}

/// Length marks below the cloth: at each 10 cm (or 6 in), words where there is room.
fn marks(sheet: &mut Sheet, lay: &Lay, face: Rect, scale: f64) {
    let (step, unit) = match lay.style {
        Style::Metric => (100.0, 10.0),
        Style::Inch => (152.4, 25.4),
    };
    let mut every = 1;
    while step * scale * f64::from(every) < 14.0 {
        every = if every == 1 { 5 } else { every * 2 };
    }
    let fine = if step * scale < 1.5 { every } else { 1 };
    let stops = (lay.layout.length / step).floor().min(2_000.0) as i32;
    for k in (0..=stops).filter(|k| k.rem_euclid(fine) == 0) {
        let (x, long) = (face.x0 + f64::from(k) * step * scale, if k.rem_euclid(every) == 0 { 2.4 } else { 1.4 });
        sheet.line(Line::Dimension, (x, face.y1 + 1.0), (x, face.y1 + 1.0 + long));
        if k.rem_euclid(every) == 0 {
            let words = show::number(f64::from(k) * step / unit);
            sheet.words(Type::Figure, Anchor::Middle, (x, face.y1 + 4.2 + Type::Figure.size()), words);
        }
    }
}

/// From the cloth, right side up with its first selvedge below, to paper.
fn on_paper(lay: &Lay, corner: Point, scale: f64) -> Affine {
    let foot = corner.y + lay.job.strip.width * scale;
    Affine::translate((corner.x, foot)) * Affine::scale_non_uniform(scale, -scale)
}

/// One piece in its place, with what hover and a screen reader say of it.
fn piece(sheet: &mut Sheet, lay: &Lay, i: usize, placement: &Placement, corner: Point, scale: f64) {
    let to_paper = on_paper(lay, corner, scale);
    let outline: Vec<Point> = placement.outline(lay.job).into_iter().map(|p| to_paper * p).collect();
    let name = lay.names.get(placement.piece).map_or("", String::as_str);
    let how_many = lay.job.pieces[placement.piece].how_many;
    let which = if how_many > 1 { format!(", {} of {how_many}", placement.copy + 1) } else { String::new() };
    let turned = turned(placement.turn).map(|t| format!(", {t}")).unwrap_or_default();
    let title = format!("{} {name}{which}{turned}", placement.piece + 1);
    let group = format!("piece-{}", i + 1);
    let mark = (placement.piece + 1).to_string();
    let fill = if placement.piece.is_multiple_of(2) { Fill::Part } else { Fill::OtherPart };
    sheet.group(&group, Some(&title), Affine::IDENTITY, |g| {
        let mut path = through(outline.iter().copied());
        path.close_path();
        if lay.stripes.is_some() {
            g.path(Line::Outline, path);
        } else {
            g.area(fill, Some(Line::Outline), path);
        }
        words_on(g, (&outline, lay.stripes.is_some()), placement.turn, &mark, name);
        if let Some(stripes) = lay.stripes {
            striped::mark(g, lay, stripes, placement, corner, scale);
        }
    });
}

/// The piece's mark, its name where that fits, and its grain arrow, about its roomiest place. The arrow has one head, for the
/// end that is at the right as the piece is drawn. On stripes they stand on a plate of plain paper.
fn words_on(g: &mut Vec<Item>, (outline, plate): (&[Point], bool), turn: Turn, mark: &str, name: &str) {
    let (mut at, deep) = geom::deepest(outline);
    let (left, right) = chord(outline, at);
    // Many places of a long piece are as roomy: take the middle one.
    let middle = Point::new((left + right) / 2.0, at.y);
    if room_at(outline, middle) > 0.9 * deep {
        at = middle;
    }
    let room = 2.0 * (at.x - left).min(right - at.x) - 2.0;
    let named = format!("{mark} {name}");
    let words = if text::width(Type::Label, &named) <= room { named } else { mark.to_string() };
    let tall = Type::Label.size();
    if deep < tall * 0.6 || text::width(Type::Label, &words) > room + 2.0 {
        return;
    }
    let roomy = deep > tall * 1.6;
    let base = if roomy { at.y - 0.4 } else { at.y + tall * 0.36 };
    let half = (room / 2.0 - 1.0).min(14.0);
    if plate {
        let wide = (text::width(Type::Label, &words) / 2.0).max(if roomy && half > 3.0 { half } else { 0.0 }) + 1.0;
        let low = if roomy && half > 3.0 { at.y + tall * 0.8 + 1.6 } else { base + tall * 0.3 };
        g.area(Fill::Paper, None, Rect::new(at.x - wide, base - tall, at.x + wide, low).to_path(0.1));
    }
    g.words(Type::Label, Anchor::Middle, (at.x, base), words);
    if roomy && half > 3.0 {
        let y = at.y + tall * 0.8;
        match turn {
            Turn::None => dimension::way(g, Line::Grain, (at.x - half, y), (at.x + half, y), ""),
            Turn::Half => dimension::way(g, Line::Grain, (at.x + half, y), (at.x - half, y), ""),
            // The piece's own grain runs across the cloth, below the words.
            _ => {
                let (end, way) = ((deep - tall).max(2.0), if turn == Turn::Quarter { -1.0 } else { 1.0 });
                let middle = at.y + tall * 0.5 + end / 2.0;
                let (from, to) = (middle - way * end / 2.0, middle + way * end / 2.0);
                dimension::way(g, Line::Grain, (at.x, from), (at.x, to), "");
            }
        }
    }
}

/// How far an inside point is from the edges.
fn room_at(outline: &[Point], p: Point) -> f64 {
    geom::edges(outline).map(|(a, b)| geom::distance_to_edge(p, a, b)).fold(f64::INFINITY, f64::min)
}

/// The stretch of a level line through `at` that lies inside the outline.
fn chord(outline: &[Point], at: Point) -> (f64, f64) {
    let crossings = geom::edges(outline)
        .filter(|(a, b)| (a.y <= at.y) != (b.y <= at.y))
        .map(|(a, b)| a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x));
    crossings.fold((f64::NEG_INFINITY, f64::INFINITY), |(left, right), x| {
        if x <= at.x { (left.max(x), right) } else { (left, right.min(x)) }
    })
}

fn turned(turn: Turn) -> Option<&'static str> {
    match turn {
        Turn::None => None,
        Turn::Half => Some("turned end for end"),
        Turn::Quarter | Turn::ThreeQuarters => Some("turned across the grain"),
    }
}

/// What is laid: mark, name, how many, size, how many turned.
fn pieces(lay: &Lay) -> Table {
    let mut table = Table::new(vec![
        Column::new("No.", 10.0, Align::Point),
        Column::new("Piece", 58.0, Align::Start),
        Column::new("How many", 16.0, Align::Point),
        Column::new("Along the grain", 32.0, Align::Point),
        Column::new("Across", 28.0, Align::Point),
        Column::new("", 8.0, Align::Start),
        Column::new("Turned", 90.0, Align::Start),
    ]);
    for (i, piece) in lay.job.pieces.iter().enumerate().filter(|(_, p)| p.how_many > 0) {
        let size = geom::bounds(&piece.outline).size();
        let turns = [Turn::Half, Turn::Quarter].map(|kind| {
            let is = |p: &&Placement| p.piece == i && turned(p.turn) == turned(kind);
            (lay.layout.placements.iter().filter(is).count(), kind)
        });
        let words: Vec<String> = turns
            .iter()
            .filter(|(n, _)| *n > 0)
            .map(|(n, kind)| format!("{n} {}", turned(*kind).unwrap_or_default()))
            .collect();
        table.row([
            (i + 1).to_string(),
            lay.names.get(i).cloned().unwrap_or_default(),
            piece.how_many.to_string(),
            centimetres(size.width, lay.style),
            centimetres(size.height, lay.style),
            String::new(),
            if words.is_empty() { "as drawn".to_string() } else { words.join(", ") },
        ]);
    }
    table
}

/// Millimetres as a person says a length of cloth.
fn centimetres(mm: f64, style: Style) -> String {
    show::of(Q::new(mm, &MM), &CM, style)
}

/// The length of cloth to have, never less than is needed: to the next millimetre, or eighth of an inch.
fn taken(mm: f64, style: Style) -> String {
    match style {
        Style::Metric => format!("{:.1} cm", (mm - 1e-6).ceil() / 10.0),
        Style::Inch => centimetres(((mm - 1e-6) / 25.4 * 8.0).ceil() / 8.0 * 25.4, style),
    }
}

fn per_cent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}
