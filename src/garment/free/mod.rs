//! Pieces the person brings: rectangles, or outlines from an SVG or DXF file at true scale, the grain along its y. Millimetres
//! inside. Files are hostile until read: size, count and depth are bounded, nothing outside the bytes is looked at.

mod dxf;
mod svg;

use super::curve;
use super::fault::Fault;
use super::flat::print_at;
use super::make::{Blank, Making, mm};
use super::outline;
use super::piece::{Garment, Mark, MarkKind, Use};
use super::rules;
use super::steps::{Picture, Side};
use super::tee::pictures;
use super::wish::{FreePiece, Outline, Wish};
use crate::geom;
use kurbo::{Affine, BezPath, PathSeg, Point, Rect, Shape, Vec2};

/// Most kinds of piece in one plan.
const PIECES_MOST: usize = 64;
/// Most copies of one piece.
const COPIES_MOST: u32 = 500;
/// Smallest and greatest side of a piece, mm.
const SIDES: (f64, f64) = (5.0, 5000.0);
/// Most curve and line segments in an outline.
const SEGMENTS_MOST: usize = 20_000;
/// A gap in an outline this small is closed, mm.
const GAP: f64 = 0.5;
/// A turn sharper than this parts two edges, degrees.
const CORNER: f64 = 20.0;

/// An outline as read: closed, clockwise, with whatever else the file drew inside it.
struct Drawn {
    outline: BezPath,
    inside: Vec<BezPath>,
}

/// Lays the pieces of a wish on the bench.
pub(super) fn draft(wish: &Wish) -> Result<Garment, Vec<Fault>> {
    let mut making = Making::new(wish);
    if wish.pieces.is_empty() || wish.pieces.len() > PIECES_MOST {
        let text = format!("{} pieces are given: 1 to {PIECES_MOST} can be planned", wish.pieces.len());
        return Err(vec![Fault::new("bad-pieces", &["garment.piece[].name"], text)]);
    }
    for (i, free) in wish.pieces.iter().enumerate() {
        if wish.pieces[..i].iter().any(|other| other.name == free.name) {
            let text = format!("two pieces are called \"{}\": give each its own name", free.name);
            making.fault("bad-pieces", &["garment.piece[].name"], text);
        }
        lay(&mut making, free);
    }
    if !making.faults.is_empty() {
        return Err(making.faults);
    }
    steps(&mut making);
    making.finish()
}

fn lay(making: &mut Making, free: &FreePiece) {
    let key = ["garment.piece[].outline"];
    if !(1..=COPIES_MOST).contains(&free.how_many) || (free.pairs && free.how_many % 2 == 1) {
        let text = format!(
            "piece \"{}\": how_many is {}; 1 to {COPIES_MOST}, and an even number of pairs",
            free.name, free.how_many
        );
        making.fault("bad-pieces", &["garment.piece[].how_many"], text);
    }
    let allowance = mm(free.allowance).unwrap_or(0.0);
    if allowance != 0.0 && !(rules::ALLOWANCE_BOUNDS.0..=rules::ALLOWANCE_BOUNDS.1).contains(&allowance) {
        let text = format!(
            "piece \"{}\": a seam allowance of {allowance:.1} mm cannot be sewn: 5 to 40 mm can, or none",
            free.name
        );
        making.fault("bad-allowance", &["garment.piece[].allowance"], text);
    }
    let drawn = match &free.outline {
        Outline::Rectangle { width, length } => {
            rectangle(mm(Some(*width)).unwrap_or(0.0), mm(Some(*length)).unwrap_or(0.0))
        }
        Outline::Svg(bytes) => svg::read(bytes).and_then(chosen),
        Outline::Dxf(bytes) => dxf::read(bytes).and_then(chosen),
    };
    match drawn.and_then(checked) {
        Ok(drawn) => add(making, free, drawn, allowance),
        Err(text) => making.fault("bad-piece", &key, format!("piece \"{}\": {text}", free.name)),
    }
}

fn rectangle(width: f64, length: f64) -> Result<Drawn, String> {
    let area = Rect::new(-0.5 * width, 0.0, 0.5 * width, length);
    Ok(Drawn { outline: area.to_path(0.1), inside: Vec::new() })
}

/// The greatest closed shape is the outline, what lies inside it is drawn on the piece, anything else is one too many.
fn chosen(paths: Vec<BezPath>) -> Result<Drawn, String> {
    if paths.iter().map(|p| p.elements().len()).sum::<usize>() > SEGMENTS_MOST {
        return Err(format!("the file draws more than {SEGMENTS_MOST} lines and curves: simplify it"));
    }
    let far = |b: Rect| [b.x0, b.y0, b.x1, b.y1].iter().any(|c| !c.is_finite() || c.abs() > geom::GREATEST);
    if paths.iter().any(|p| far(p.control_box())) {
        return Err(format!("the drawing reaches further than {:.0} m: is the scale right?", geom::GREATEST / 1000.0));
    }
    let closed = |p: &BezPath| curve::start(p).distance(curve::end(p)) <= GAP && p.segments().count() > 1;
    let (mut loops, mut open): (Vec<BezPath>, Vec<BezPath>) = paths.into_iter().partition(closed);
    loops.sort_by(|a, b| b.area().abs().total_cmp(&a.area().abs()));
    if loops.is_empty() {
        return Err("it holds no closed outline: close the path that the scissors follow".into());
    }
    let mut outline = loops.remove(0);
    if outline.area() < 0.0 {
        outline = curve::reversed(&outline);
    }
    open.append(&mut loops);
    let mut whole = outline.clone();
    whole.close_path();
    let outside = |p: &BezPath| p.segments().any(|s| !whole.contains(kurbo::ParamCurve::eval(&s, 0.5)));
    let strays = open.iter().filter(|p| outside(p)).count();
    if strays > 0 {
        return Err(format!("{strays} more shapes lie outside its outline: one file, one piece"));
    }
    Ok(Drawn { outline, inside: open })
}

/// Size and shape within bounds; moved so that its top stands at y = 0 and its middle at x = 0.
fn checked(drawn: Drawn) -> Result<Drawn, String> {
    let bounds = drawn.outline.bounding_box();
    let (low, high) = SIDES;
    for side in [bounds.width(), bounds.height()] {
        if !(low..=high).contains(&side) {
            return Err(format!(
                "it is {:.1} x {:.1} cm: a piece is {:.1} to {:.0} cm each way (is the scale right?)",
                bounds.width() / 10.0,
                bounds.height() / 10.0,
                low / 10.0,
                high / 10.0
            ));
        }
    }
    let shift = Affine::translate(Vec2::new(-bounds.center().x, -bounds.y0));
    let outline = shift * drawn.outline;
    if let Some(flaw) = geom::flaw(&outline::polygon(&outline)) {
        return Err(flaw.to_string());
    }
    Ok(Drawn { outline, inside: drawn.inside.into_iter().map(|p| shift * p).collect() })
}

fn add(making: &mut Making, free: &FreePiece, drawn: Drawn, allowance: f64) {
    let names = [free.name.as_str()];
    let print = print_at(making, &names, 0.0, 50.0);
    let edges = edges(&drawn.outline);
    let named: Vec<(String, BezPath)> =
        edges.into_iter().enumerate().map(|(i, p)| (format!("edge {}", i + 1), p)).collect();
    let count = named.len();
    let mirror = mirrors(&drawn.outline);
    let marks =
        drawn.inside.into_iter().map(|path| Mark { kind: MarkKind::Place, path, words: String::new() }).collect();
    let blank = Blank { edges: named, marks, print, ..Blank::of(&free.name, free.how_many, Vec::new()) };
    let piece = making.add(Blank { pairs: free.pairs, symmetric: mirror, ..blank });
    for i in 1..=count {
        making.treat(piece, &format!("edge {i}"), Use::Plain, allowance);
    }
}

/// Whether an outline is its own mirror in x = 0.
fn mirrors(outline: &BezPath) -> bool {
    let points = outline::polygon(outline);
    let mut closed = outline.clone();
    closed.close_path();
    let near = |p: Point| {
        let other = Point::new(-p.x, p.y);
        geom::edges(&points).any(|(a, b)| geom::distance_to_edge(other, a, b) < 0.2)
    };
    points.len() < 2000 && points.iter().all(|&p| near(p))
}

/// The outline parted at its corners.
fn edges(outline: &BezPath) -> Vec<BezPath> {
    let segments: Vec<PathSeg> = outline
        .segments()
        .filter(|s| curve::length(&BezPath::from_path_segments(std::iter::once(*s))) > 1e-6)
        .collect();
    let n = segments.len();
    let sharp = |i: usize| {
        let (a, b) = (curve::direction(&segments[(i + n - 1) % n], 1.0), curve::direction(&segments[i], 0.0));
        libm::atan2(a.cross(b), a.dot(b)).abs() > CORNER.to_radians()
    };
    let corners: Vec<usize> = (0..n).filter(|&i| sharp(i)).collect();
    let Some(&first) = corners.first() else { return vec![BezPath::from_path_segments(segments.into_iter())] };
    let mut runs = Vec::new();
    let mut run: Vec<PathSeg> = Vec::new();
    for step in 0..n {
        let i = (first + step) % n;
        if step > 0 && corners.contains(&i) {
            runs.push(BezPath::from_path_segments(std::mem::take(&mut run).into_iter()));
        }
        run.push(segments[i]);
    }
    runs.push(BezPath::from_path_segments(run.into_iter()));
    runs
}

fn steps(making: &mut Making) {
    let mut picture = Picture::default();
    let mut x = 0.0;
    for piece in &making.pieces {
        let line = piece.seam_line();
        let b = line.bounding_box();
        picture = picture.part(Side::Right, Affine::translate((x - b.x0, -b.y0)) * line);
        x += b.width() + 40.0;
    }
    pictures::first(making, picture);
    for i in 0..making.pieces.len() {
        let piece = &making.pieces[i];
        let Some(print) = piece.print else { continue };
        let (name, line) = (piece.name.clone(), piece.seam_line());
        let picture = Picture::default().part(Side::Right, line).folds([print.area.to_path(0.1)]);
        pictures::print_step(making, &name, picture);
    }
    making.because("garment.piece[].name", "the pieces are your own: how they are sewn together is not known here");
}
