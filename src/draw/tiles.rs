//! A large sheet on home paper: full-size pages that overlap, with marks that meet, a square of 100 mm on each to measure the
//! print by, and first of all a map with the instructions. Pages with nothing on them are left out. The drawing is put into
//! the PDF once and shown through each page's window.

use krilla::Document;
use krilla::geom::{PathBuilder, Rect as PdfRect, Transform};
use krilla::graphic::Graphic;
use krilla::paint::FillRule;
use krilla::surface::Surface;

use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

use crate::draw::dimension::test_square;
use crate::draw::extent::{self, Seen, walk};
use crate::draw::pdf::{draw_tree, metadata, page_settings, points};
use crate::draw::refused::{MOST_PAGES, Refused, check};
use crate::draw::sheet::{Anchor, Draw, Fill, Item, Line, Sheet, Type};
use crate::draw::style::Look;
use crate::draw::title::Paper;
use crate::draw::{text, title, tree};

/// Edge of the paper that home printers leave white, with room for the marks outside the drawing.
pub const EDGE: f64 = 12.0;
/// Tolerance when shapes are flattened to see which pages they touch.
const FLAT: f64 = 0.5;

/// How a sheet is cut into pages.
#[derive(Clone, Debug)]
pub struct Tiling {
    paper: Paper,
    overlap: f64,
    /// Width and height of a page of paper, in the way it is held.
    page: (f64, f64),
    /// Columns and rows.
    pub columns: usize,
    pub rows: usize,
    /// Whether page (row, column) shows anything, row by row.
    shown: Vec<bool>,
}

impl Tiling {
    /// The tiling of `sheet` on `paper`, neighbours overlapping by `overlap` (5 to 40 mm), held upright or lying, whichever
    /// needs fewer pages.
    ///
    /// # Errors
    /// What [`check`] refuses, an overlap out of range, more than [`MOST_PAGES`].
    pub fn new(sheet: &Sheet, paper: Paper, overlap: f64) -> Result<Self, Refused> {
        check(sheet)?;
        if !(5.0..=40.0).contains(&overlap) {
            return Err(Refused::Setting { what: "the overlap", given: overlap, accepted: "5 to 40 mm" });
        }
        let (w, h) = paper.size();
        let sides = flat_sides(sheet);
        let mut best: Option<Tiling> = None;
        for page in [(w, h), (h, w)] {
            let tiling = Tiling::held(sheet, paper, overlap, page, &sides)?;
            if best.as_ref().is_none_or(|b| tiling.pages() < b.pages()) {
                best = Some(tiling);
            }
        }
        best.ok_or(Refused::Pages(0))
    }

    fn held(sheet: &Sheet, paper: Paper, overlap: f64, page: (f64, f64), sides: &[Rect]) -> Result<Self, Refused> {
        let window = (page.0 - 2.0 * EDGE, page.1 - 2.0 * EDGE);
        let count = |length: f64, window: f64| ((length - overlap) / (window - overlap) - 1e-9).ceil().max(1.0);
        let (columns, rows) = (count(sheet.width, window.0), count(sheet.height, window.1));
        if columns * rows > MOST_PAGES as f64 {
            return Err(Refused::Pages(columns as usize * rows as usize));
        }
        let (columns, rows) = (columns as usize, rows as usize);
        let mut tiling = Tiling { paper, overlap, page, columns, rows, shown: vec![false; columns * rows] };
        for row in 0..rows {
            for column in 0..columns {
                let own = tiling.window(row, column);
                tiling.shown[row * columns + column] = sides.iter().any(|s| touches(*s, own));
            }
        }
        Ok(tiling)
    }

    /// The part of the sheet that a page shows, the overlaps with its neighbours included.
    pub fn window(&self, row: usize, column: usize) -> Rect {
        let (w, h) = (self.page.0 - 2.0 * EDGE, self.page.1 - 2.0 * EDGE);
        let at = Point::new(column as f64 * (w - self.overlap), row as f64 * (h - self.overlap));
        Rect::from_origin_size(at, (w, h))
    }
    /// Width and height of a page, in the way it is held.
    pub fn page(&self) -> (f64, f64) {
        self.page
    }
    /// Whether a page has anything on it and is printed.
    pub fn is_shown(&self, row: usize, column: usize) -> bool {
        self.shown[row * self.columns + column]
    }
    /// Pages that are printed, the map not counted.
    pub fn pages(&self) -> usize {
        self.shown.iter().filter(|s| **s).count()
    }
    /// A page's name: its row as a letter, its column as a number.
    pub fn name(row: usize, column: usize) -> String {
        format!("{}{}", row_letters(row), column + 1)
    }
}

/// A, B … Z, AA, AB …
fn row_letters(row: usize) -> String {
    let last = char::from(b'A' + (row % 26) as u8);
    if row < 26 { last.to_string() } else { row_letters(row / 26 - 1) + &last.to_string() }
}

/// The sheet as a PDF of pages to glue together, the map first.
///
/// # Errors
/// What [`Tiling::new`] refuses.
pub fn pdf(sheet: &Sheet, paper: Paper, overlap: f64) -> Result<Vec<u8>, Refused> {
    let tiling = Tiling::new(sheet, paper, overlap)?;
    let art = tree::of(sheet, Look::Print)?;
    let mut document = Document::new();
    document.set_metadata(metadata(sheet));
    let map = map_page(sheet, &tiling);
    let map_tree = tree::of(&map, Look::Print)?;
    let mut page = document.start_page_with(page_settings(&map)?);
    let mut surface = page.surface();
    draw_tree(&mut surface, &map_tree, &map)?;
    let graphic = drawn_once(&mut surface, &art, sheet)?;
    surface.finish();
    page.finish();
    for (row, column) in (0..tiling.rows).flat_map(|r| (0..tiling.columns).map(move |c| (r, c))) {
        if !tiling.is_shown(row, column) {
            continue;
        }
        let marks = marks_page(sheet, &tiling, row, column);
        let marks_tree = tree::of(&marks, Look::Print)?;
        let mut page = document.start_page_with(page_settings(&marks)?);
        let mut surface = page.surface();
        draw_tree(&mut surface, &marks_tree, &marks)?;
        through_window(&mut surface, &graphic, &tiling, row, column)?;
        surface.finish();
        page.finish();
    }
    document.finish().map_err(|e| Refused::Writer(format!("{e:?}")))
}

/// The drawing as a graphic that pages share.
fn drawn_once(surface: &mut Surface, art: &usvg::Tree, sheet: &Sheet) -> Result<Graphic, Refused> {
    let mut builder = surface.stream_builder();
    let mut inner = builder.surface();
    draw_tree(&mut inner, art, sheet)?;
    inner.finish();
    Ok(Graphic::new(builder.finish(), false))
}

/// Shows a page's window of the drawing.
fn through_window(
    surface: &mut Surface,
    art: &Graphic,
    tiling: &Tiling,
    row: usize,
    column: usize,
) -> Result<(), Refused> {
    let (left, top) = (points(EDGE), points(EDGE));
    let (right, bottom) = (points(tiling.page.0 - EDGE), points(tiling.page.1 - EDGE));
    let mut path = PathBuilder::new();
    let window = PdfRect::from_ltrb(left, top, right, bottom);
    path.push_rect(window.ok_or_else(|| Refused::Writer("a window without size".to_string()))?);
    let path = path.finish().ok_or_else(|| Refused::Writer("a window without size".to_string()))?;
    let own = tiling.window(row, column);
    surface.push_clip_path(&path, &FillRule::NonZero);
    surface.push_transform(&Transform::from_translate(points(EDGE - own.x0), points(EDGE - own.y0)));
    surface.draw_graphic(art.clone());
    surface.pop();
    surface.pop();
    Ok(())
}

/// Everything around and under a page's part of the drawing.
fn marks_page(sheet: &Sheet, tiling: &Tiling, row: usize, column: usize) -> Sheet {
    let name = Tiling::name(row, column);
    let mut page = Sheet::new(&sheet.name, &format!("{} {name}", sheet.title), "", tiling.page.0, tiling.page.1);
    let window = Rect::new(EDGE, EDGE, tiling.page.0 - EDGE, tiling.page.1 - EDGE);
    let own = tiling.window(row, column);
    if !holds_square(sheet, own) {
        square_of(&mut page, window, own, &flat_sides(sheet));
    }
    frame(&mut page, tiling, window, row, column);
    crosses(&mut page, tiling, window, own);
    page_words(&mut page, sheet, tiling, &name);
    page
}

/// The window's edges: where a neighbour lies under this page, the edge is one to cut along.
fn frame(page: &mut Sheet, tiling: &Tiling, window: Rect, row: usize, column: usize) {
    let neighbour = |dr: isize, dc: isize| {
        let (r, c) = (row.checked_add_signed(dr)?, column.checked_add_signed(dc)?);
        (r < tiling.rows && c < tiling.columns && tiling.is_shown(r, c)).then(|| Tiling::name(r, c))
    };
    let edges = [
        (neighbour(-1, 0), (window.x0, window.y0), (window.x1, window.y0), 0.0),
        (neighbour(0, -1), (window.x0, window.y1), (window.x0, window.y0), -90.0),
        (neighbour(1, 0), (window.x0, window.y1), (window.x1, window.y1), 0.0),
        (neighbour(0, 1), (window.x1, window.y1), (window.x1, window.y0), -90.0),
    ];
    for (i, (other, from, to, turn)) in edges.into_iter().enumerate() {
        let cuts = i < 2;
        let (from, to) = (Point::from(from), Point::from(to));
        page.line(if other.is_some() && cuts { Line::Hidden } else { Line::Dimension }, from, to);
        let Some(other) = other else { continue };
        let words =
            if cuts { format!("cut along this edge, lay it on {other}") } else { format!("{other} goes on top here") };
        let out = Vec2::new(if turn == 0.0 { 0.0 } else { -1.0 }, if turn == 0.0 { -1.0 } else { 0.0 });
        let outside = if cuts { 1.4 } else { -1.4 - Type::Note.size() * text::CAPITAL };
        let at = from.lerp(to, if turn == 0.0 { 0.36 } else { 0.62 }) + out * outside;
        page.words_turned(Type::Note, Anchor::Middle, at, turn, words);
    }
    overlap_strips(page, tiling, window, edges_shared(tiling, row, column));
}

/// Whether the neighbour below and the one at the right are printed.
fn edges_shared(tiling: &Tiling, row: usize, column: usize) -> (bool, bool) {
    let below = row + 1 < tiling.rows && tiling.is_shown(row + 1, column);
    (below, column + 1 < tiling.columns && tiling.is_shown(row, column + 1))
}

/// A faint dashed line where the neighbour's edge will lie.
fn overlap_strips(page: &mut Sheet, tiling: &Tiling, window: Rect, (below, right): (bool, bool)) {
    if below {
        let y = window.y1 - tiling.overlap;
        page.line(Line::Doubt, (window.x0, y), (window.x1, y));
    }
    if right {
        let x = window.x1 - tiling.overlap;
        page.line(Line::Doubt, (x, window.y0), (x, window.y1));
    }
}

/// Crosses at the same places of the sheet on all pages that share them: where the middles of overlaps meet the quarters of
/// a page. On neighbours they fall on each other when the pages lie right.
fn crosses(page: &mut Sheet, tiling: &Tiling, window: Rect, own: Rect) {
    let step = Vec2::new(window.width() - tiling.overlap, window.height() - tiling.overlap);
    let half = tiling.overlap / 2.0;
    let inner = |n: usize, step: f64| (1..n).map(move |i| i as f64 * step + half).collect::<Vec<f64>>();
    let (seams_x, seams_y) = (inner(tiling.columns, step.x), inner(tiling.rows, step.y));
    let along = |n: usize, step: f64| {
        (0..n).flat_map(move |i| [0.25, 0.75].map(|q| (i as f64 + q) * step + half)).collect::<Vec<f64>>()
    };
    let mut places: Vec<Point> = Vec::new();
    for x in &seams_x {
        places.extend(along(tiling.rows, step.y).iter().map(|y| Point::new(*x, *y)));
    }
    for y in &seams_y {
        places.extend(along(tiling.columns, step.x).iter().map(|x| Point::new(*x, *y)));
    }
    let arm = 3.0;
    for place in places.into_iter().filter(|p| own.inset(-0.01).contains(*p)) {
        let at = Point::new(EDGE, EDGE) + (place - own.origin());
        page.line(Line::Detail, at - Vec2::new(arm, 0.0), at + Vec2::new(arm, 0.0));
        page.line(Line::Detail, at - Vec2::new(0.0, arm), at + Vec2::new(0.0, arm));
        page.circle(Line::Detail, at, arm * 0.5);
    }
}

/// Name of the page and the sheet in the white edge.
fn page_words(page: &mut Sheet, sheet: &Sheet, tiling: &Tiling, name: &str) {
    let base = tiling.page.1 - EDGE + 6.8;
    page.words(Type::Heading, Anchor::Start, (EDGE, base), name);
    let number = format!("{} rows of {}, page {name}", tiling.rows, tiling.columns);
    page.words(Type::Note, Anchor::Start, (EDGE + 12.0, base), number);
    let title = text::shortened(Type::Note, &format!("{} · {}", sheet.title, title::scale_words(sheet.scale)), 100.0);
    page.words(Type::Note, Anchor::End, (tiling.page.0 - EDGE, base), title);
}

/// Whether the drawing's own square lies whole on a page.
fn holds_square(sheet: &Sheet, own: Rect) -> bool {
    sheet.items.iter().any(|item| match item {
        Item::Group { name, .. } if name == "test-square" => extent::of(std::slice::from_ref(item))
            .is_some_and(|b| own.x0 <= b.x0 && own.y0 <= b.y0 && b.x1 <= own.x1 && b.y1 <= own.y1),
        _ => false,
    })
}

/// The 100 mm square where it crosses the fewest lines of the drawing. It is drawn under the drawing.
fn square_of(page: &mut Sheet, window: Rect, own: Rect, sides: &[Rect]) {
    let here: Vec<Rect> = sides.iter().filter(|s| touches(**s, own)).copied().collect();
    let shares = [0.5, 0.06, 0.94, 0.28, 0.72];
    let mut best: Option<(usize, Point)> = None;
    for sy in shares {
        for sx in shares {
            let at = Point::new(window.x0 + sx * (window.width() - 100.0), window.y0 + sy * (window.height() - 100.0));
            let on_sheet = Rect::from_origin_size(at - Vec2::new(EDGE, EDGE) + own.origin().to_vec2(), (100.0, 100.0));
            let words = on_sheet.inset(-22.0).inset((0.0, -12.0));
            let met = here.iter().filter(|s| touches(**s, on_sheet)).count();
            let met = met + 4 * here.iter().filter(|s| touches(**s, words)).count();
            if best.is_none_or(|(least, _)| met < least) {
                best = Some((met, at));
            }
        }
    }
    if let Some((_, at)) = best {
        test_square(page, at);
    }
}

/// Boxes of the short straight pieces that the drawing is made of, and of its words, for asking what lies where.
fn flat_sides(sheet: &Sheet) -> Vec<Rect> {
    let mut sides = Vec::new();
    walk(&sheet.items, &mut |seen| match seen {
        Seen::Path { path, line, fill } => {
            if fill.is_some() && line.is_none() {
                sides.push(path.bounding_box());
            }
            pieces(&path, &mut sides);
        }
        Seen::Words { at, text, kind, anchor, turn } => sides.push(extent::of_words(at, text, kind, anchor, turn)),
        Seen::Picture { at, place, .. } => sides.push(place.transform_rect_bbox(at)),
        _ => {}
    });
    sides
}

/// Boxes of the straight pieces of a path; long slanting ones are halved so that their boxes stay near the line.
fn pieces(path: &BezPath, sides: &mut Vec<Rect>) {
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    let mut add = |a: Point, b: Point| {
        let slant = (b.x - a.x).abs().min((b.y - a.y).abs());
        let parts = (slant / 20.0).ceil().clamp(1.0, 64.0) as usize;
        for i in 0..parts {
            let (s, t) = (i as f64 / parts as f64, (i + 1) as f64 / parts as f64);
            sides.push(Rect::from_points(a.lerp(b, s), a.lerp(b, t)));
        }
    };
    kurbo::flatten(path.iter(), FLAT, |element| match element {
        kurbo::PathEl::MoveTo(p) => (start, last) = (p, p),
        kurbo::PathEl::LineTo(p) => {
            add(last, p);
            last = p;
        }
        _ => {
            add(last, start);
            last = start;
        }
    });
}

/// Whether two rectangles share a point; a line has a rectangle of no height.
fn touches(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// The first page: how to print and join, and which page goes where.
fn map_page(sheet: &Sheet, tiling: &Tiling) -> Sheet {
    let mut page = title::page(tiling.paper, &sheet.name, &sheet.title, "How to print the pages and which goes where.");
    let lead = format!(
        "{} by {} mm on {} pages of {} {}, and this map.",
        sheet.width.round(),
        sheet.height.round(),
        tiling.pages(),
        tiling.paper.says(),
        if tiling.page.0 > tiling.page.1 { "held sideways" } else { "held upright" }
    );
    let mut y = title::head(&mut page, &lead);
    let wide = page.width - 2.0 * title::MARGIN;
    for (i, step) in steps(tiling).into_iter().enumerate() {
        page.words(Type::Strong, Anchor::Start, (title::MARGIN, text::base(Type::Body, y)), format!("{}", i + 1));
        y = text::paragraph(&mut page, Type::Body, (title::MARGIN + 6.0, y), wide - 6.0, &step) + 0.8;
    }
    let square = Point::new((page.width - 100.0) / 2.0, page.height - title::MARGIN - title::FOOT - 103.0);
    let room = Rect::new(title::MARGIN, y + 4.0, page.width - title::MARGIN, square.y - 5.0);
    small_map(&mut page, sheet, tiling, room);
    test_square(&mut page, square);
    title::foot(&mut page, "map of the pages");
    page
}

/// What to do with the pages, in order.
fn steps(tiling: &Tiling) -> Vec<String> {
    let overlap = super::svg::number(tiling.overlap);
    vec![
        "Print all pages at 100 % (“actual size”), never “fit to page”.".to_string(),
        "Measure the square on every page: 100 mm both ways, to half a millimetre. If it is not, do not cut."
            .to_string(),
        "On each page cut along the broken edges at the top and left.".to_string(),
        format!(
            "Lay it over the {overlap} mm strip of the page above or left, until the ringed crosses fall on each other. Tape."
        ),
    ]
}

/// The whole sheet small, with its pages.
fn small_map(page: &mut Sheet, sheet: &Sheet, tiling: &Tiling, room: Rect) {
    let last = tiling.window(tiling.rows - 1, tiling.columns - 1);
    let whole = Rect::new(0.0, 0.0, last.x1.max(sheet.width), last.y1.max(sheet.height));
    let scale = (room.width() / whole.width()).min(room.height() / whole.height()).min(1.0);
    if scale <= 0.0 {
        return;
    }
    let left = room.x0 + (room.width() - whole.width() * scale) / 2.0;
    let place = Affine::translate((left, room.y0)) * Affine::scale(scale);
    page.group("map", Some("which page goes where"), place, |g| {
        for (row, column) in (0..tiling.rows).flat_map(|r| (0..tiling.columns).map(move |c| (r, c))) {
            let shown = tiling.is_shown(row, column);
            let own = tiling.window(row, column);
            if shown {
                g.area(Fill::Part, None, own.to_path(0.1));
            }
        }
        g.append(&mut faint(&sheet.items));
        for (row, column) in (0..tiling.rows).flat_map(|r| (0..tiling.columns).map(move |c| (r, c))) {
            g.rect(Line::Dimension, tiling.window(row, column));
        }
    });
    for (row, column) in (0..tiling.rows).flat_map(|r| (0..tiling.columns).map(move |c| (r, c))) {
        let at = place * tiling.window(row, column).center();
        let drop = Vec2::new(0.0, Type::Strong.size() * text::CAPITAL / 2.0);
        if tiling.is_shown(row, column) {
            page.spot(Fill::Paper, at, 4.0);
            page.words(Type::Strong, Anchor::Middle, at + drop, Tiling::name(row, column));
        } else {
            page.words(Type::Note, Anchor::Middle, at + drop, "empty");
        }
    }
}

/// The shapes of a drawing as thin lines, without words and pictures.
fn faint(items: &[Item]) -> Vec<Item> {
    let mut lines = Vec::new();
    walk(items, &mut |seen| {
        if let Seen::Path { path, line: Some(line), .. } = seen
            && line != Line::Grid
        {
            lines.path(if line == Line::Cut { Line::Detail } else { Line::Hatch }, path);
        }
    });
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(width: f64, height: f64) -> Sheet {
        let mut sheet = Sheet::new("pattern", "Front", "", width, height);
        sheet.scale = Some(1.0);
        sheet.circle(Line::Cut, (width / 2.0, height / 2.0), width.min(height) / 2.0 - 5.0);
        sheet
    }

    #[test]
    fn windows_cover_the_sheet_and_overlap() {
        for (w, h) in [(150.0, 200.0), (620.0, 1880.0), (186.0, 273.0), (187.0, 274.0), (1000.0, 90.0)] {
            for paper in [Paper::A4, Paper::Letter] {
                let tiling = Tiling::new(&sheet(w, h), paper, 12.0).expect("tiled");
                let last = tiling.window(tiling.rows - 1, tiling.columns - 1);
                assert!(last.x1 >= w && last.y1 >= h);
                assert!(tiling.columns == 1 || tiling.window(0, tiling.columns - 2).x1 < w, "no page too many");
                if tiling.columns > 1 {
                    assert!((tiling.window(0, 0).x1 - tiling.window(0, 1).x0 - 12.0).abs() < 1e-9);
                }
            }
        }
        let tiling = Tiling::new(&sheet(186.0, 273.0), Paper::A4, 10.0).expect("tiled");
        assert_eq!((tiling.columns, tiling.rows), (1, 1));
    }

    #[test]
    fn pages_with_nothing_on_them_are_left_out() {
        let tiling = Tiling::new(&sheet(3000.0, 3000.0), Paper::A4, 10.0).expect("tiled");
        assert!(tiling.pages() < tiling.columns * tiling.rows);
        assert!(!tiling.is_shown(0, 0) && !tiling.is_shown(tiling.rows / 2, tiling.columns / 2), "a ring has a hollow");
        assert!(tiling.is_shown(0, tiling.columns / 2));
    }

    #[test]
    fn names_and_refusals() {
        assert_eq!(Tiling::name(0, 0), "A1");
        assert_eq!(Tiling::name(25, 9), "Z10");
        assert_eq!(Tiling::name(26, 0), "AA1");
        assert!(matches!(Tiling::new(&sheet(100.0, 100.0), Paper::A4, 1.0), Err(Refused::Setting { .. })));
        assert!(matches!(Tiling::new(&sheet(20_000.0, 20_000.0), Paper::A4, 10.0), Err(Refused::Pages(_))));
    }
}
