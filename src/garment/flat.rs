//! Articles that stay flat: towel, scarf, apron. Millimetres, y down, the centre at x = 0. A towel's and a scarf's long edges
//! are the cloth's own; their width is the cloth's.

use super::curve;
use super::fault::Fault;
use super::make::{Blank, Making, both_halves, mm};
use super::piece::{Finish, Garment, MarkKind, PrintPlace, Use};
use super::rules;
use super::steps::{Picture, Side};
use super::stitch;
use super::stripes::Tied;
use super::tee::pictures;
use super::wish::{Kind, Wish};
use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

/// Greatest side of a flat article, mm.
const GREATEST: f64 = 5000.0;

/// Width and length asked for, or usual ones; `None` when they cannot be: neither side may be under `low`.
pub(super) fn size(making: &mut Making, usual: (f64, f64), low: f64) -> Option<(f64, f64)> {
    let asked = making.wish.finished;
    let (width, length) = asked.map_or(Some(usual), |f| Some((mm(Some(f.width))?, mm(Some(f.length))?)))?;
    if asked.is_none() {
        let text = format!("finished size not given: {} taken", making.say.size(width, length));
        making.because("garment.finished.width", text);
    }
    let high = GREATEST;
    for (key, side) in [("garment.finished.width", width), ("garment.finished.length", length)] {
        if !(low..=high).contains(&side) {
            let text = format!("{:.1} cm cannot be made: {:.0} to {:.0} cm can", side / 10.0, low / 10.0, high / 10.0);
            making.fault("bad-size", &[key], text);
        }
    }
    making.faults.is_empty().then_some((width, length))
}

/// The print on a piece whose top edge lies at `top`, whatever name it goes by there.
pub(super) fn print_at(making: &mut Making, names: &[&str], top: f64, usual: f64) -> Option<PrintPlace> {
    let wish = making.wish.print.as_ref().filter(|p| names.contains(&p.piece.as_str()))?;
    let (width, height) = (mm(Some(wish.width))?, mm(Some(wish.height))?);
    let below = mm(wish.below).unwrap_or(usual);
    let aside = wish.aside();
    let area = Rect::new(aside - 0.5 * width, top + below, aside + 0.5 * width, top + below + height);
    if !(area.is_finite() && width > 0.0 && height > 0.0) {
        making.fault("bad-print", &["print.width"], "the print needs a width and a height above nought");
        return None;
    }
    Some(PrintPlace { area, below, clear: 0.0 })
}

/// A towel or a scarf.
pub(super) fn strip(wish: &Wish) -> Result<Garment, Vec<Fault>> {
    let mut making = Making::new(wish);
    let (name, usual) = if wish.kind == Kind::Scarf { ("scarf", (300.0, 1800.0)) } else { ("towel", (500.0, 700.0)) };
    let Some((width, length)) = size(&mut making, usual, 60.0) else { return Err(making.faults) };
    let hem = making.hem_depth(rules::NARROW_HEM);
    let fringe = mm(wish.fringe).unwrap_or(0.0);
    if !(0.0..=500.0).contains(&fringe) {
        let text = format!("a fringe of {:.1} cm cannot be made: 0 to 50 cm can", fringe / 10.0);
        making.fault("bad-fringe", &["garment.finished.fringe"], text);
        return Err(making.faults);
    }
    let print = print_at(&mut making, &[name, "front"], fringe, 0.25 * length);
    let area = Rect::new(-0.5 * width, 0.0, 0.5 * width, length + 2.0 * fringe);
    let mut blank = Blank::rectangle(name, 1, area, ["head", "right", "foot", "left"]);
    blank.print = print;
    let ends =
        [fringe, fringe + length].map(|y| curve::straight(Point::new(-0.5 * width, y), Point::new(0.5 * width, y)));
    if fringe > 0.0 {
        for end in &ends {
            blank = blank.mark(MarkKind::Stitch, end.clone(), "the weft ends here");
        }
        making.inner_stitching += 2.0 * width;
    }
    let piece = making.add(blank);
    if fringe == 0.0 {
        making.hem("ends", hem, &[(piece, "head"), (piece, "foot")], 1);
    }
    for edge in ["right", "left"] {
        if let Some(at) = making.pieces[piece].edge(edge) {
            making.pieces[piece].edges[at].finish = Finish::Selvedge;
        }
    }
    making.because(
        name,
        "the long edges are the selvedges: the cloth is woven to the finished width and the sides need no hem",
    );
    let outline = making.pieces[piece].seam_line();
    let text = "Wash the cloth as it will be washed later, dry it flat, press it. Pull out one weft thread where you will cut: the \
                gap is straight. Stitch along both sides of the gap, then cut in it.";
    let step =
        making.step("Wash and cut", text, Picture::default().part(Side::Right, outline.clone()).folds(ends.clone()));
    step.caution = Some("Cut away from the hand that holds the cloth.".into());
    print_step(&mut making, piece, name, &outline);
    if fringe > 0.0 {
        let text = format!(
            "Before the piece leaves the loom, hemstitch along both ends of the weaving. Off the loom, cut the warp {} beyond \
             the stitches; twist or knot it in even bundles, then wash.",
            making.say.length(fringe)
        );
        making.step("Fringe", text, Picture::default().part(Side::Right, outline).now(ends));
    } else {
        hem_step(&mut making, "Turn each end in", &outline, &ends);
    }
    making.finish()
}

fn print_step(making: &mut Making, piece: usize, name: &str, outline: &BezPath) {
    let Some(print) = making.pieces[piece].print else { return };
    let area = print.area.to_path(0.1);
    pictures::print_step(making, name, Picture::default().part(Side::Right, outline.clone()).folds([area]));
}

fn hem_step(making: &mut Making, what: &str, outline: &BezPath, edges: &[BezPath]) {
    let say = making.say;
    let turns = |names: &[&str]| {
        let hem = making.hems.iter().find(|h| names.contains(&h.name.as_str()));
        hem.map(|h| format!("{} and again by {}", say.length(h.turns().0), say.length(h.turns().1)))
    };
    let first = turns(&["ends", "hem"]).unwrap_or_default();
    let sides = turns(&["sides"]).map_or(String::new(), |t| format!(", the sides by {t}"));
    let text =
        format!("{what} by {first}{sides}. Press, and stitch close to the inner fold; go back and forth at the ends.");
    let picture = Picture::default().part(Side::Wrong, outline.clone()).now(edges.to_vec());
    making.step("Hems", text, picture).caution = Some(stitch::IRON.into());
}

/// The parts of an apron.
#[derive(Clone, Copy)]
struct Apron {
    width: f64,
    length: f64,
    bib: f64,
    /// Depth of the bib, from its top to the waist.
    down: f64,
    strap: f64,
    neck: f64,
    tie: f64,
}

/// A bib apron: one piece, a neck strap, two ties, a pocket if wished.
pub(super) fn apron(wish: &Wish) -> Result<Garment, Vec<Fault>> {
    let mut making = Making::new(wish);
    let Some((width, length)) = size(&mut making, (650.0, 850.0), 250.0) else { return Err(making.faults) };
    let bib = (0.42 * width).min(320.0).max(0.3 * width);
    let strap = mm(wish.handles.width).unwrap_or(25.0);
    let neck = mm(wish.handles.length).unwrap_or(580.0);
    let apron = Apron { width, length, bib, down: 0.32 * length, strap, neck, tie: 0.5 * width + 550.0 };
    let say = making.say;
    making.because(
        "garment.finished.width",
        format!("bib {} wide at the top and {} deep", say.length(bib), say.length(apron.down)),
    );
    making.because(
        "garment.handles.length",
        format!(
            "neck strap {} and two ties {} long: try them on before you cut",
            say.length(neck),
            say.length(apron.tie)
        ),
    );
    if !(10.0..=120.0).contains(&strap) || !(100.0..=1500.0).contains(&neck) {
        let text = format!(
            "a strap {:.1} cm wide and {:.1} cm long cannot be made: 1 to 12 cm wide and 10 to 150 cm long can",
            strap / 10.0,
            neck / 10.0
        );
        making.fault("bad-handles", &["garment.handles.length"], text);
    }
    if !making.faults.is_empty() {
        return Err(making.faults);
    }
    let body = apron_body(&mut making, &apron);
    let neck_strap = making.add(strap_blank("neck strap", 1, apron.strap, apron.neck + 60.0));
    let tie = making.add(strap_blank("tie", 2, apron.strap, apron.tie + 30.0));
    close_strap(&mut making, neck_strap, 1);
    close_strap(&mut making, tie, 2);
    // Each strap is sewn on with a square of stitches and a cross in it.
    making.inner_stitching += 4.0 * (4.0 + 2.0 * std::f64::consts::SQRT_2) * 25.0;
    if wish.pocket {
        pocket(&mut making, &apron, body);
    }
    apron_steps(&mut making, &apron, body);
    making.finish()
}

fn apron_body(making: &mut Making, apron: &Apron) -> usize {
    let Apron { width, length, bib, down, .. } = *apron;
    let hem = making.hem_depth(rules::BAG_HEM);
    let side_hem = rules::SIDE_HEM.min(hem);
    let print = print_at(making, &["apron", "front"], 0.0, 0.3 * down);
    let p = |x: f64, y: f64| Point::new(x, y);
    let right = vec![
        ("top", curve::straight(p(0.0, 0.0), p(0.5 * bib, 0.0))),
        (
            "curve",
            curve::cubic(
                p(0.5 * bib, 0.0),
                p(0.5 * bib, 0.62 * down),
                p(0.5 * width - 0.30 * (width - bib), down),
                p(0.5 * width, down),
            ),
        ),
        ("side", curve::straight(p(0.5 * width, down), p(0.5 * width, length))),
        ("hem", curve::straight(p(0.5 * width, length), p(0.0, length))),
    ];
    let middle = curve::straight(p(0.0, 0.0), p(0.0, length));
    let mut blank = Blank { edges: both_halves(right), ..Blank::of("apron", 1, Vec::new()) }
        .mark(MarkKind::Centre, middle, "centre")
        .notch("top", 0.5 * bib, false)
        .notch("hem", 0.5 * width, false);
    blank.print = print;
    let body = making.add(blank);
    making.hem("top", hem, &[(body, "top")], 1);
    making.hem("curves", 15.0, &[(body, "curve_right"), (body, "curve_left")], 1);
    making.hem("sides", side_hem, &[(body, "side_right"), (body, "side_left")], 1);
    making.hem("hem", hem, &[(body, "hem")], 1);
    body
}

/// A strap folded lengthwise: edges turned in, the two folds stitched together.
pub(super) fn strap_blank(name: &str, how_many: u32, finished: f64, long: f64) -> Blank {
    let area = Rect::new(-finished, 0.0, finished, long);
    let fold = curve::straight(Point::ZERO, Point::new(0.0, long));
    Blank::rectangle(name, how_many, area, ["head", "right", "foot", "left"])
        .mark(MarkKind::Fold, fold, "fold")
        .hidden()
}

/// Sews a strap shut along its length; the ends are turned in.
pub(super) fn close_strap(making: &mut Making, strap: usize, times: u32) {
    let turned = making.enclosed();
    let name = format!("{} edge", making.pieces[strap].name);
    making.sew_as(&name, Default::default(), turned, &[(strap, "right")], &[(strap, "left")], times);
    for end in ["head", "foot"] {
        making.treat(strap, end, Use::Plain, turned);
    }
}

fn pocket(making: &mut Making, apron: &Apron, body: usize) {
    let (wide, deep) = ((0.32 * apron.width).clamp(120.0, 240.0), 180.0);
    let area = Rect::new(-0.5 * wide, 0.0, 0.5 * wide, deep);
    let pocket = making.add(Blank::rectangle("pocket", 1, area, ["top", "right", "foot", "left"]));
    let turned = making.enclosed();
    making.hem("pocket top", rules::HEM, &[(pocket, "top")], 1);
    for edge in ["right", "foot", "left"] {
        making.treat(pocket, edge, Use::Plain, turned);
    }
    making.inner_stitching += 2.0 * (2.0 * deep + wide);
    let place = Rect::new(-0.5 * wide, apron.down + 60.0, 0.5 * wide, apron.down + 60.0 + deep);
    let mark = super::piece::Mark { kind: MarkKind::Place, path: place.to_path(0.1), words: "pocket".into() };
    making.pieces[body].marks.push(mark);
    // sewn flat on the apron: its stripes run on all round
    making.tied.push(Tied { piece: pocket, to: body, by: -Vec2::new(0.0, place.y0), both: true });
}

fn apron_steps(making: &mut Making, apron: &Apron, body: usize) {
    let outline = making.pieces[body].seam_line();
    let edge = |name: &str| {
        let piece = &making.pieces[body];
        piece.edge(name).map(|i| piece.edges[i].path.clone()).unwrap_or_default()
    };
    let curves = [edge("curve_right"), edge("curve_left")];
    let rest = [edge("top"), edge("side_right"), edge("side_left"), edge("hem")];
    let strap =
        Rect::new(0.5 * apron.width + 40.0, 0.0, 0.5 * apron.width + 40.0 + 2.0 * apron.strap, 0.7 * apron.length);
    let beside = [0.0, 40.0 + 2.0 * apron.strap].map(|x| (strap + Vec2::new(x, 0.0)).to_path(0.1));
    pictures::first(making, Picture::default().part(Side::Right, outline.clone()).parts(Side::Right, beside.clone()));
    print_step(making, body, "apron", &outline);
    let say = making.say;
    let text = format!(
        "Press the long edges of each strap in by 10 mm, fold it lengthwise, press, and stitch the edges together; it is {} wide. \
         Turn the ends in.",
        say.length(apron.strap)
    );
    let folded = beside.map(|s| Affine::scale_non_uniform(0.5, 1.0) * s);
    let lines = folded.iter().map(|s| {
        let b = s.bounding_box();
        curve::straight(Point::new(b.x0 + 3.0, b.y0), Point::new(b.x0 + 3.0, b.y1))
    });
    let picture = Picture::default().parts(Side::Right, folded.clone()).now(lines);
    making.step("Straps", text, picture).caution = Some(stitch::NEEDLE.into());
    let text = "Turn the curved edges in by 5 mm and again by 10 mm: clip nothing, ease the fold round, press before you stitch.";
    making.step("Curved edges", text, Picture::default().part(Side::Wrong, outline.clone()).now(curves.clone()));
    hem_step(making, "Turn top and lower edge in", &outline, &rest);
    let square = |x: f64, y: f64| Rect::new(x - 12.0, y, x + 12.0, y + 25.0).to_path(0.1);
    let marks = [
        square(0.5 * apron.bib - 15.0, 6.0),
        square(15.0 - 0.5 * apron.bib, 6.0),
        square(0.5 * apron.width - 15.0, apron.down + 6.0),
        square(15.0 - 0.5 * apron.width, apron.down + 6.0),
    ];
    let text = "Lay the ends of the neck strap 30 mm over the corners of the bib, the ties over the corners at the waist. Stitch \
                round each in a square and across it corner to corner.";
    let pocket = making.pieces[body].marks.iter().find(|m| m.kind == MarkKind::Place).map(|m| {
        let b = m.path.bounding_box();
        let corners = [(b.x0, b.y0), (b.x0, b.y1), (b.x1, b.y1), (b.x1, b.y0)];
        curve::polyline(&corners.map(Point::from))
    });
    let text = match pocket {
        Some(_) => {
            format!("{text} Press the pocket's edges in, lay it on its mark and stitch round three sides, twice.")
        }
        None => text.to_string(),
    };
    let picture = Picture::default().part(Side::Right, outline).done(curves).done(rest).now(marks).now(pocket);
    making.step("Sew the straps on", text, picture).caution = Some(stitch::NEEDLE.into());
}
