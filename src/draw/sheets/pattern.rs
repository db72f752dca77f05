//! The paper pattern: every piece at true size, side by side, with its cut line, seam line, notches, grain, centre and fold
//! lines, allowances and words; for one large sheet, for pages to glue, and as outlines for a cutter. Takes the pieces as they
//! are and computes nothing of the garment.

use kurbo::{Affine, BezPath, Point, Rect, Shape};

use super::room::{Room, Spot};
use crate::draw::dimension;
use crate::draw::extent;
use crate::draw::sheet::{Anchor, Draw, Item, Line, Sheet, Type};
use crate::draw::text;
use crate::draw::title;
use crate::garment::{Cloth, Edge, Finish, Garment, MarkKind, Piece, Say, Use};

/// Room between pieces.
const APART: f64 = 14.0;
/// A row is filled up to this width, or to the widest piece.
const ROW: f64 = 1250.0;
/// Least width of the sheet: its head and the list of pieces.
const LEAST: f64 = 300.0;
/// Shortest edge that carries words.
const EDGE_WORDS_LEAST: f64 = 55.0;

/// All pieces of one garment at full size on one sheet.
pub fn sheet(garment: &Garment) -> Sheet {
    let say = Say { inches: garment.inches };
    let names: Vec<String> = garment.pieces.iter().map(|p| format!("{} ({})", p.name, p.cut_words())).collect();
    let describe = format!("Paper pattern at full size: {}.", names.join(", "));
    let wide = garment.pieces.iter().map(|p| p.width()).fold(ROW, f64::max) + 2.0 * title::MARGIN;
    let mut sheet = Sheet::new("pattern", &title_of(garment), &describe, wide, 100.0);
    sheet.scale = Some(1.0);
    let top = title::head(&mut sheet, LEAD);
    let top = legend(&mut sheet, garment, top);
    let mut foot = top;
    for (at, index) in laid(garment, top, wide) {
        let piece = &garment.pieces[index];
        let b = piece.bounds();
        let place = Affine::translate(at - b.origin());
        let words = format!("{}: {}", piece.name, piece.cut_words());
        sheet.group(&slug(&piece.name), Some(&words), place, |g| draw_piece(g, garment, piece, say));
        foot = foot.max(at.y + b.height());
    }
    sheet.width = (dense(&sheet.items) + title::MARGIN).max(LEAST);
    trim_rule(&mut sheet);
    sheet.height = foot + title::MARGIN + title::FOOT + 4.0;
    title::foot(&mut sheet, "Print at 100 %, never fitted to the page. Measure the square before you cut.");
    sheet
}

const LEAD: &str = "Cut along the thick line, sew along the dashed one. The arrow lies along the warp. Pieces are whole: lay \
                    them on single cloth, right side up. Wash and press the cloth first.";

fn title_of(garment: &Garment) -> String {
    format!("Paper pattern: {}", garment.kind.word())
}

fn slug(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect()
}

/// Right-most point of the pieces, leaving out the rule under the title, which is as long as the sheet.
fn dense(items: &[Item]) -> f64 {
    let groups = items.iter().filter(|i| matches!(i, Item::Group { .. }));
    groups.filter_map(|g| extent::of(std::slice::from_ref(g))).map(|e| e.x1).fold(0.0, f64::max)
}

/// Shortens the rule under the title to the final width.
fn trim_rule(sheet: &mut Sheet) {
    let right = sheet.width - title::MARGIN;
    for item in &mut sheet.items {
        if let Item::Path { path, line: Some(Line::Outline), .. } = item {
            let b = path.bounding_box();
            if b.x1 > right && b.height() < 1e-6 {
                *path = crate::draw::sheet::through([Point::new(b.x0, b.y0), Point::new(right, b.y0)]);
            }
        }
    }
}

/// The kinds of line that occur, and the square that proves the size; gives the y below.
fn legend(sheet: &mut Sheet, garment: &Garment, top: f64) -> f64 {
    let mut lines = vec![Line::Cut, Line::Seam, Line::Notch, Line::Grain];
    let marks = || garment.pieces.iter().flat_map(|p| &p.marks);
    if marks().any(|m| m.kind == MarkKind::Centre) {
        lines.push(Line::Centre);
    }
    if marks().any(|m| m.kind == MarkKind::Fold) {
        lines.push(Line::Fold);
    }
    if garment.pieces.iter().any(|p| p.edges.iter().any(|e| e.finish == Finish::Selvedge)) {
        lines.push(Line::Selvedge);
    }
    dimension::test_square(sheet, (title::MARGIN, top));
    let x = title::MARGIN + 112.0;
    let y = title::legend(sheet, (x, top), &lines, 1);
    let list = garment.pieces.iter().map(|p| format!("{}: {}", p.name, p.cut_words()));
    for (i, line) in list.enumerate() {
        let (column, row) = (i / 7, i % 7);
        let at =
            (x + 62.0 + 82.0 * column as f64, text::base(Type::Body, top) + text::leading(Type::Body) * row as f64);
        sheet.words(Type::Body, Anchor::Start, at, text::shortened(Type::Body, &line, 80.0));
    }
    y.max(top + 100.0) + APART
}

/// Where each piece goes: rows of falling height, filled from the left.
fn laid(garment: &Garment, top: f64, wide: f64) -> Vec<(Point, usize)> {
    let mut order: Vec<usize> = (0..garment.pieces.len()).collect();
    let high = |i: usize| garment.pieces[i].length();
    order.sort_by(|&a, &b| high(b).total_cmp(&high(a)).then(a.cmp(&b)));
    let (mut x, mut y, mut row) = (title::MARGIN, top, 0.0f64);
    let mut places = Vec::new();
    for index in order {
        let across = garment.pieces[index].width();
        if x > title::MARGIN && x + across > wide - title::MARGIN {
            (x, y, row) = (title::MARGIN, y + row + APART, 0.0);
        }
        places.push((Point::new(x, y), index));
        x += across + APART;
        row = row.max(high(index));
    }
    places
}

/// A piece in its own millimetres.
fn draw_piece(draw: &mut Vec<Item>, garment: &Garment, piece: &Piece, say: Say) {
    draw.group(&format!("{}-cut", slug(&piece.name)), None, Affine::IDENTITY, |g| {
        g.path(Line::Cut, piece.cut.clone());
        for edge in piece.edges.iter().filter(|e| e.finish == Finish::Selvedge) {
            g.path(Line::Selvedge, moved_out(edge));
        }
    });
    draw.group(&format!("{}-seam", slug(&piece.name)), None, Affine::IDENTITY, |g| {
        for edge in piece.edges.iter().filter(|e| e.allowance > 0.0) {
            g.path(Line::Seam, edge.path.clone());
        }
    });
    for notch in &piece.notches {
        for (from, to) in piece.notch_lines(notch) {
            draw.line(Line::Notch, from, to);
        }
    }
    let mut room = Room::of(piece.seam_line());
    marks(draw, &mut room, piece, say);
    let (foot, tip) = piece.grain;
    dimension::grain(draw, foot, tip, if piece.one_way { "warp, this end up" } else { "warp" });
    room.keep(Rect::from_points(foot, tip).inflate(5.0, 2.0));
    edge_words(draw, garment, piece, say);
    name(draw, &room, piece, say);
}

/// A straight edge moved out by its allowance.
fn moved_out(edge: &Edge) -> BezPath {
    crate::draw::sheet::through([edge.across(0.0).1, edge.across(edge.length()).1])
}

fn marks(draw: &mut Vec<Item>, room: &mut Room, piece: &Piece, say: Say) {
    for mark in &piece.marks {
        let line = match mark.kind {
            MarkKind::Centre => Line::Centre,
            MarkKind::Fold => Line::Fold,
            MarkKind::Stitch => Line::Seam,
            MarkKind::Slit => Line::Cut,
            MarkKind::Place | MarkKind::Print => Line::Ghost,
            MarkKind::Stripe => Line::Notch,
        };
        draw.path(line, mark.path.clone());
        let b = mark.path.bounding_box();
        room.keep(b.inflate(2.5, 2.5));
        if mark.kind == MarkKind::Stripe {
            let at = Point::new(b.x1 + 1.5, b.center().y - 1.5);
            draw.words(Type::Small, Anchor::Start, at, mark.words.as_str());
            room.keep(extent::of_words(at, &mark.words, Type::Small, Anchor::Start, 0.0).inflate(1.5, 1.5));
            continue;
        }
        mark_words(draw, room, &mark.words, b);
    }
    if let Some(print) = piece.print {
        draw.path(Line::Ghost, print.area.to_path(0.1));
        let words = format!("print here: {}", say.size(print.area.width(), print.area.height()));
        let at = Point::new(print.area.center().x, print.area.y1 - 4.0);
        draw.words(Type::Small, Anchor::Middle, at, words);
        room.keep(print.area.inflate(2.0, 2.0));
    }
}

/// Words beside an upright line, over a level one, in the middle of a box.
fn mark_words(draw: &mut Vec<Item>, room: &mut Room, words: &str, b: Rect) {
    if words.is_empty() {
        return;
    }
    let wide = text::width(Type::Small, words);
    let (at, turn) = if b.width() < 1.0 && b.height() > wide + 4.0 {
        (Point::new(b.x0 - 1.4, b.y1 - 12.0), -90.0)
    } else if b.width() < 1.0 {
        (Point::new(b.x0 + 2.0, b.y1), 0.0)
    } else {
        (Point::new(b.x0 + 3.0, if b.height() < 1.0 { b.y0 - 1.4 } else { b.y0 + 5.0 }), 0.0)
    };
    draw.words_turned(Type::Small, Anchor::Start, at, turn, words);
    room.keep(extent::of_words(at, words, Type::Small, Anchor::Start, turn).inflate(1.5, 1.5));
}

/// Between the two lines of each edge: what it is sewn to and how wide the allowance is.
fn edge_words(draw: &mut Vec<Item>, garment: &Garment, piece: &Piece, say: Say) {
    for (i, edge) in piece.edges.iter().enumerate() {
        let long = edge.length();
        if edge.allowance < 5.0 || long < EDGE_WORDS_LEAST {
            continue;
        }
        let what = match edge.use_ {
            Use::Seam(s) => garment.seams.get(s).map_or("seam", |s| s.name.as_str()),
            Use::Hem => "hem",
            Use::Plain => "turned in or left",
        };
        let words = format!("{what}, {}", say.length(edge.allowance));
        let wide = text::width(Type::Small, &words);
        let clear = |along: f64| {
            piece.notches.iter().filter(|n| n.edge == i).all(|n| (n.along - along).abs() > 0.5 * wide + 4.0)
        };
        let spots = [0.5, 0.36, 0.64, 0.25, 0.75].map(|share| share * long);
        let along = spots.into_iter().find(|&a| clear(a)).unwrap_or(0.5 * long);
        if wide > 0.9 * long {
            continue;
        }
        let (_, d) = edge.at(along);
        let (inner, outer) = edge.across(along);
        let mut turn = libm::atan2(d.y, d.x).to_degrees();
        if !(-90.01..89.99).contains(&turn) {
            turn += if turn > 0.0 { -180.0 } else { 180.0 };
        }
        let drop = extent::direction(turn + 90.0) * (Type::Small.size() * text::CAPITAL / 2.0);
        let at = inner.midpoint(outer) + drop;
        draw.words_turned(Type::Small, Anchor::Middle, at, turn, words);
    }
}

/// The name, how many to cut and the size as cut, where nothing else stands.
fn name(draw: &mut Vec<Item>, room: &Room, piece: &Piece, say: Say) {
    let size = format!("{} as cut", say.size(piece.width(), piece.length()));
    let cloth = if piece.cloth == Cloth::Lining { "lining" } else { "right side up" };
    let lines = [
        (Type::Title, piece.name.clone()),
        (Type::Body, piece.cut_words()),
        (Type::Small, size),
        (Type::Small, cloth.to_string()),
    ];
    for count in [4, 2, 1] {
        let block = &lines[..count];
        let wide = block.iter().map(|(kind, words)| text::width(*kind, words)).fold(0.0, f64::max);
        let high: f64 = block.iter().map(|(kind, _)| text::leading(*kind)).sum();
        let Some(Spot { at, turned }) = room.find(wide, high) else { continue };
        // Turned words read from the right: their lines run up the sheet and follow one another from left to right.
        let mut down = 0.0;
        for (kind, words) in block {
            let base = text::base(*kind, down);
            let (p, turn) = if turned {
                (Point::new(at.x + base, at.y + wide), -90.0)
            } else {
                (Point::new(at.x, at.y + base), 0.0)
            };
            draw.words_turned(*kind, Anchor::Start, p, turn, words.as_str());
            down += text::leading(*kind);
        }
        return;
    }
    // A piece too small for its name has it above.
    let b = piece.bounds();
    draw.words(Type::Small, Anchor::Start, (b.x0, b.y0 - 1.5), format!("{}: {}", piece.name, piece.cut_words()));
}
