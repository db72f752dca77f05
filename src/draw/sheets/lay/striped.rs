//! Stripes on the lay, faint, so that the eye sees them meet: the whole cloth in its colours, the waste over it, and a mark on each piece
//! where it takes hold of them. Takes bands as they lie; computes no repeat.

use kurbo::{BezPath, Point, Rect, Shape};

use super::{Lay, on_paper};
use crate::draw::dimension;
use crate::draw::sheet::{Draw, Fill, Item, Line, Sheet};
use crate::geom;
use crate::nest::Placement;

/// Threads of one colour side by side, as they lie on the finished cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Where it begins, mm.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
    pub rgb: [u8; 3],
}

/// The stripes of the cloth that is laid on.
#[derive(Clone, Debug)]
pub struct Stripes {
    /// From the lower selvedge; one band where the warp is of one colour.
    pub warp: Vec<Band>,
    /// From the start of the cloth; one band where the weft is of one colour.
    pub weft: Vec<Band>,
    /// Where each of the job's pieces is marked, in its outline's own terms.
    pub marks: Vec<Option<Point>>,
    /// What the maker must know of them.
    pub words: String,
}

/// Share of a yarn's colour in its stripe; the rest is white.
const FAINT: f64 = 0.45;
/// Most pieces of cloth painted one by one; finer checks are painted by their weft alone.
const MOST_CHECKS: usize = 20_000;
/// Half the length of a mark.
const MARK: f64 = 1.8;

/// The cloth in its colours, and its waste over it.
pub(super) fn cloth(sheet: &mut Sheet, lay: &Lay, stripes: &Stripes, face: Rect, scale: f64) {
    let to_paper = on_paper(lay, face.origin(), scale);
    let mut painted: Vec<(Fill, BezPath)> = Vec::new();
    let whole = [Band { from: 0.0, to: lay.job.strip.width, rgb: [0; 3] }];
    let fine = stripes.warp.len() * stripes.weft.len() > MOST_CHECKS;
    let across = if fine { &whole[..] } else { &stripes.warp[..] };
    for weft in &stripes.weft {
        for warp in across {
            let rgb = if fine { weft.rgb } else { mixed(warp.rgb, weft.rgb) };
            let fill = faint(rgb);
            let patch = Rect::from_points((weft.from, warp.from), (weft.to, warp.to));
            let patch = to_paper.transform_rect_bbox(patch).intersect(face);
            if patch.area() > 0.0 {
                match painted.iter_mut().find(|(with, _)| *with == fill) {
                    Some((_, path)) => path.extend(patch.to_path(0.1)),
                    None => painted.push((fill, patch.to_path(0.1))),
                }
            }
        }
    }
    for (fill, path) in painted {
        sheet.area(fill, None, path);
    }
    let waste = waste(lay, face, scale);
    sheet.area(Fill::Loss, None, waste.clone());
    dimension::hatch(sheet, &waste, 2.2, 45.0);
}

/// The cloth less its pieces: these run round the other way, so that they are holes whichever rule fills the path.
fn waste(lay: &Lay, face: Rect, scale: f64) -> BezPath {
    let to_paper = on_paper(lay, face.origin(), scale);
    let mut path = face.to_path(0.1);
    let way = path.area().signum();
    for placement in &lay.layout.placements {
        let mut outline: Vec<Point> = placement.outline(lay.job).into_iter().map(|p| to_paper * p).collect();
        if geom::area(&outline).signum() == way {
            outline.reverse();
        }
        path.move_to(outline[0]);
        outline[1..].iter().for_each(|p| path.line_to(*p));
        path.close_path();
    }
    path
}

/// Warp and weft show about equally.
fn mixed(a: [u8; 3], b: [u8; 3]) -> [u8; 3] {
    std::array::from_fn(|i| (u16::from(a[i]).midpoint(u16::from(b[i]))) as u8)
}

fn faint(rgb: [u8; 3]) -> Fill {
    let [r, g, b] = rgb.map(|c| (255.0 - FAINT * (255.0 - f64::from(c))).round() as u8);
    Fill::Rgb(r, g, b)
}

/// The mark of a piece: a line along each way its stripes are set, a cross where that is both.
pub(super) fn mark(g: &mut Vec<Item>, lay: &Lay, stripes: &Stripes, placement: &Placement, corner: Point, scale: f64) {
    let Some(at) = stripes.marks.get(placement.piece).copied().flatten() else { return };
    let p = on_paper(lay, corner, scale) * placement.put(at);
    let plate = Rect::from_center_size(p, (2.0 * MARK + 0.6, 2.0 * MARK + 0.6));
    g.area(Fill::Paper, None, plate.to_path(0.1));
    if lay.job.repeat.across.is_some() {
        g.line(Line::Notch, (p.x - MARK, p.y), (p.x + MARK, p.y));
    }
    if lay.job.repeat.along.is_some() {
        g.line(Line::Notch, (p.x, p.y - MARK), (p.x, p.y + MARK));
    }
}
