//! A bag with two handles: one length of cloth folded at the bottom, sewn at the sides, boxed at the corners when it has a
//! depth. Millimetres; the fold lies at y = 0, the front above it, the back below.

use super::curve;
use super::fault::Fault;
use super::fit::{Amount, Bound, Fit};
use super::flat::{close_strap, print_at, size, strap_blank};
use super::make::{Blank, Making, mm};
use super::piece::{Cloth, Garment, MarkKind, PRACTICE};
use super::rules;
use super::steps::{Picture, Side};
use super::stitch;
use super::tee::pictures;
use super::wish::Wish;
use kurbo::{BezPath, Point, Rect, Shape};

/// How far the end of a handle lies on the bag.
const LAID_ON: f64 = 60.0;

#[derive(Clone, Copy)]
struct Bag {
    width: f64,
    height: f64,
    depth: f64,
    handle: f64,
    strap: f64,
    hem: f64,
}

impl Bag {
    /// From the fold to the top edge.
    fn reach(&self) -> f64 {
        self.height + 0.5 * self.depth
    }
    /// From the middle of the bag to the middle of a handle.
    fn handle_at(&self) -> f64 {
        0.22 * self.width
    }
}

/// Drafts it.
pub(super) fn draft(wish: &Wish) -> Result<Garment, Vec<Fault>> {
    let mut making = Making::new(wish);
    let Some((width, height)) = size(&mut making, (380.0, 420.0), 100.0) else { return Err(making.faults) };
    let depth = wish.finished.and_then(|f| mm(f.depth)).unwrap_or(0.0);
    let (handle, strap) = (mm(wish.handles.length).unwrap_or(600.0), mm(wish.handles.width).unwrap_or(30.0));
    let hem = making.hem_depth(rules::BAG_HEM);
    let bag = Bag { width, height, depth, handle, strap, hem };
    possible(&mut making, &bag);
    if !making.faults.is_empty() {
        return Err(making.faults);
    }
    let say = making.say;
    if wish.handles.length.is_none() {
        making.because(
            "garment.handles.length",
            format!("handles {} from seam to seam: over the shoulder", say.length(handle)),
        );
    }
    let body = cut(&mut making, &bag);
    if wish.lining {
        lining(&mut making, &bag);
    }
    let handles = making.add(strap_blank("handle", 2, strap, handle + 2.0 * LAID_ON));
    close_strap(&mut making, handles, 2);
    // Both long edges of a handle are stitched; each end gets a box and a cross.
    let ends = 4.0 * (2.0 * (LAID_ON + strap) + 2.0 * (LAID_ON * LAID_ON + strap * strap).sqrt());
    making.inner_stitching += 2.0 * handle + ends + 2.0 * depth;
    making.fits.push(Fit {
        code: "handles-carry",
        name: "drop of the handles",
        value: Amount::mm(0.5 * (handle - 2.0 * bag.handle_at())),
        limit: Amount::mm(80.0),
        bound: Bound::AtLeast,
        must: false,
        text: format!(
            "handles {} long, {} apart: a hand needs a drop of 80 mm",
            say.length(handle),
            say.length(2.0 * bag.handle_at())
        ),
        knobs: &["garment.handles.length"],
        source: PRACTICE,
    });
    order(&mut making, &bag, body);
    making.finish()
}

fn possible(making: &mut Making, bag: &Bag) {
    if !(0.0..=0.9 * bag.width.min(bag.height)).contains(&bag.depth) {
        let text = format!(
            "a bag {:.1} cm deep cannot be folded from {:.1} x {:.1} cm",
            bag.depth / 10.0,
            bag.width / 10.0,
            bag.height / 10.0
        );
        making.fault("bad-size", &["garment.finished.depth"], text);
    }
    if !(10.0..=150.0).contains(&bag.strap) || !(80.0..=2000.0).contains(&bag.handle) {
        let text = format!(
            "a handle {:.1} cm wide and {:.1} cm long cannot be made: 1 to 15 cm wide and 8 to 200 cm long can",
            bag.strap / 10.0,
            bag.handle / 10.0
        );
        making.fault("bad-handles", &["garment.handles.length"], text);
    }
    if bag.hem + LAID_ON > bag.height {
        making.fault("bad-size", &["garment.finished.length"], "the bag is too low for its hem and handles");
    }
}

/// Front and back in one, with a fold between: edges from the top of the front clockwise.
fn folded(name: &str, width: f64, reach: f64) -> Blank {
    let (x, p) = (0.5 * width, Point::new);
    let edges = vec![
        ("top_front", curve::straight(p(-x, -reach), p(x, -reach))),
        ("side_front_right", curve::straight(p(x, -reach), p(x, 0.0))),
        ("side_back_right", curve::straight(p(x, 0.0), p(x, reach))),
        ("top_back", curve::straight(p(x, reach), p(-x, reach))),
        ("side_back_left", curve::straight(p(-x, reach), p(-x, 0.0))),
        ("side_front_left", curve::straight(p(-x, 0.0), p(-x, -reach))),
    ];
    Blank::of(name, 1, edges)
        .mark(MarkKind::Fold, curve::straight(p(-x, 0.0), p(x, 0.0)), "fold: bottom")
        .notch("side_front_right", reach, false)
        .notch("side_front_left", 0.0, false)
}

fn cut(making: &mut Making, bag: &Bag) -> usize {
    let allowance = making.allowance();
    let reach = bag.reach();
    let mut blank = folded("bag", bag.width, reach);
    blank.print = print_at(making, &["bag", "front"], -reach, (0.35 * bag.height).min(bag.hem + 60.0));
    for (side, name) in [(-1.0, "front"), (1.0, "back")] {
        for x in [-bag.handle_at(), bag.handle_at()] {
            let (near, far) = (side * reach, side * (reach - LAID_ON));
            let area = Rect::new(x - 0.5 * bag.strap, near.min(far), x + 0.5 * bag.strap, near.max(far));
            blank = blank.mark(MarkKind::Place, area.to_path(0.1), format!("handle, {name}"));
        }
    }
    if bag.depth > 0.0 {
        for y in [-0.5 * bag.depth, 0.5 * bag.depth] {
            let x = 0.5 * bag.width;
            blank =
                blank.mark(MarkKind::Fold, curve::straight(Point::new(-x, y), Point::new(x, y)), "edge of the bottom");
        }
    }
    let body = making.add(blank);
    making.sew("side", allowance, &[(body, "side_front_right")], &[(body, "side_back_right")], 2);
    making.hem("top", bag.hem, &[(body, "top_front"), (body, "top_back")], 1);
    body
}

/// A lining as wide as the bag that ends under its hem.
fn lining(making: &mut Making, bag: &Bag) {
    let allowance = making.allowance();
    let turned = making.enclosed();
    let reach = bag.reach() - bag.hem + 10.0;
    let piece = making.add(Blank { cloth: Cloth::Lining, shows: false, ..folded("lining", bag.width - 4.0, reach) });
    making.sew_as(
        "lining side",
        Default::default(),
        allowance,
        &[(piece, "side_front_right")],
        &[(piece, "side_back_right")],
        2,
    );
    for edge in ["top_front", "top_back"] {
        making.treat(piece, edge, super::piece::Use::Plain, turned);
    }
    making.inner_stitching += 2.0 * bag.depth;
    making.because(
        "garment.lining",
        "the lining is 4 mm narrower than the bag, so that it lies inside it, and ends under the hem",
    );
}

fn order(making: &mut Making, bag: &Bag, body: usize) {
    let flat = making.pieces[body].seam_line();
    let (x, high) = (0.5 * bag.width, bag.height);
    let p = |a: f64, b: f64| Point::new(a, b);
    let front = Rect::new(-x, 0.0, x, high).to_path(0.1);
    let sides = [curve::straight(p(x, 0.0), p(x, high)), curve::straight(p(-x, 0.0), p(-x, high))];
    let top = curve::straight(p(-x, 0.0), p(x, 0.0));
    pictures::first(making, Picture::default().part(Side::Right, flat.clone()));
    if let Some(print) = making.pieces[body].print {
        pictures::print_step(
            making,
            "front",
            Picture::default().part(Side::Right, flat.clone()).folds([print.area.to_path(0.1)]),
        );
    }
    let say = making.say;
    let how = pictures::seam_words(making.wish.sew.seams);
    let text =
        format!("Fold the cloth right side in, top edges together. Stitch both sides from the top to the fold. {how}");
    making.step("Sides", text, Picture::default().part(Side::Wrong, front.clone()).now(sides.clone()));
    if bag.depth > 0.0 {
        corners(making, bag, &front);
    }
    if making.wish.lining {
        let text = "Sew the lining in the same way. Put it into the bag, wrong sides together, side seams matching.";
        making.step(
            "Lining",
            text,
            Picture::default()
                .part(Side::Wrong, front.clone())
                .part(Side::Lining, Rect::new(4.0 - x, bag.hem, x - 4.0, high).to_path(0.1)),
        );
    }
    let hem = making.hems.first().map_or((10.0, 30.0), |h| h.turns());
    let over = if making.wish.lining { ", over the lining's raw edge," } else { "" };
    let text = format!(
        "Turn the top in by {} and again by {}{over} and press. Stitch close to the inner fold.",
        say.length(hem.0),
        say.length(hem.1)
    );
    let picture = Picture::default().part(Side::Wrong, front.clone()).done(sides.clone()).now([top]);
    making.step("Top", text, picture).caution = Some(stitch::IRON.into());
    handles(making, bag, front, &sides);
}

fn corners(making: &mut Making, bag: &Bag, front: &BezPath) {
    let (x, y, d) = (0.5 * bag.width, bag.height, 0.5 * bag.depth);
    let cut = [x, -x].map(|side| curve::straight(Point::new(side - d * side.signum(), y), Point::new(side, y - d)));
    let say = making.say;
    let text = format!(
        "Pull each lower corner flat, the side seam on the bottom fold. Stitch across it where it is {} wide, twice.",
        say.length(bag.depth)
    );
    making.step("Corners", text, Picture::default().part(Side::Wrong, front.clone()).now(cut));
}

fn handles(making: &mut Making, bag: &Bag, front: BezPath, sides: &[BezPath; 2]) {
    let (a, w, p) = (bag.handle_at(), 0.5 * bag.strap, Point::new);
    let rise = 0.45 * bag.handle;
    // The middle of a cubic stands at three quarters of its handles.
    let arch = |x: f64, high: f64| curve::cubic(p(-x, 0.0), p(-x, -high / 0.75), p(x, -high / 0.75), p(x, 0.0));
    let back = curve::reversed(&arch(a - w, rise - bag.strap));
    let mut strap = curve::chained([&arch(a + w, rise), &curve::straight(p(a + w, 0.0), p(a - w, 0.0)), &back]);
    strap.close_path();
    let boxes = [-a, a].map(|x| {
        let r = Rect::new(x - w, 0.0, x + w, LAID_ON);
        curve::polyline(&[p(r.x0, r.y0), p(r.x1, r.y0), p(r.x1, r.y1), p(r.x0, r.y1), p(r.x0, r.y0), p(r.x1, r.y1)])
    });
    let text = format!(
        "Press the handles' long edges in by 10 mm, fold them lengthwise and stitch both long edges. Lay each end {} over the \
         bag on its mark, turned in, and stitch round it and corner to corner.",
        making.say.length(LAID_ON)
    );
    let picture = Picture::default().part(Side::Right, strap).part(Side::Right, front).done(sides.to_vec()).now(boxes);
    making.step("Handles", text, picture).caution = Some(stitch::NEEDLE.into());
}
