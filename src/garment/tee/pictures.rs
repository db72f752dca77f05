//! The sewing order of a top and what each step's picture shows: the parts as they lie on the table, what was sewn before
//! and what is sewn now. Shapes only; the garment's millimetres, y down.

use super::super::curve;
use super::super::make::Making;
use super::super::piece::Piece;
use super::super::steps::{Picture, Side};
use super::super::stitch;
use super::super::wish::SeamKind;
use super::neck::Neck;
use super::straight::Arm;
use super::{Torso, shaped::Pieces, straight};
use kurbo::{Affine, BezPath, Point, Shape, Vec2};

fn edge(piece: &Piece, name: &str) -> BezPath {
    piece.edge(name).map(|i| piece.edges[i].path.clone()).unwrap_or_default()
}

fn mirror(path: &BezPath) -> BezPath {
    Affine::scale_non_uniform(-1.0, 1.0) * path
}

fn pair(path: BezPath) -> [BezPath; 2] {
    let other = mirror(&path);
    [path, other]
}

fn closed(parts: &[&BezPath]) -> BezPath {
    let mut whole = curve::chained(parts.iter().copied());
    whole.close_path();
    whole
}

/// The body and sleeves of a top as seams to draw.
struct View {
    body: BezPath,
    /// Right and left, folded along the middle.
    sleeves: Vec<BezPath>,
    shoulders: Vec<BezPath>,
    neck: Vec<BezPath>,
    armholes: Vec<BezPath>,
    sides: Vec<BezPath>,
    hems: Vec<BezPath>,
}

/// The map that lays a folded sleeve, cap to the left, against the right armhole.
fn lay(from: (Point, Point), to: (Point, Point)) -> Affine {
    let (u, v) = (from.1 - from.0, to.1 - to.0);
    let turn = libm::atan2(v.y, v.x) - libm::atan2(u.y, u.x);
    let (sin, cos) = (libm::sin(turn), libm::cos(turn));
    let spin = Affine::new([cos, sin, -sin, cos, 0.0, 0.0]);
    Affine::translate(to.0.to_vec2()) * spin * Affine::translate(-from.0.to_vec2())
}

fn view_of_shaped(making: &Making, pieces: Pieces) -> View {
    let front = &making.pieces[pieces.front];
    let sleeve = &making.pieces[pieces.sleeve];
    let armhole = edge(front, "armhole_right");
    let (cap, under) = (mirror(&edge(sleeve, "cap_front")), mirror(&edge(sleeve, "underarm_front")));
    let (top, low) = (curve::start(&cap), curve::end(&cap));
    let hem = mirror(&edge(sleeve, "hem"));
    let middle = hem.segments().next().map_or(Point::ZERO, |_| curve::at(&hem, 0.5 * curve::length(&hem)).0);
    let half_hem = curve::straight(curve::end(&under), middle);
    let map = lay((top, low), (curve::start(&armhole), curve::end(&armhole)));
    let (under, half_hem) = (map * under, map * half_hem);
    // Set in, the cap lies along the armhole.
    let folded = closed(&[&armhole, &under, &half_hem]);
    let sides = edge(front, "side_right");
    View {
        body: front.seam_line(),
        sleeves: pair(folded).to_vec(),
        shoulders: pair(edge(front, "shoulder_right")).to_vec(),
        neck: vec![edge(front, "neck")],
        armholes: pair(armhole).to_vec(),
        sides: pair(sides).into_iter().chain(pair(under)).collect(),
        hems: std::iter::once(edge(front, "hem")).chain(pair(half_hem)).collect(),
    }
}

/// Sewing order of a shaped top.
pub(super) fn shaped(making: &mut Making, pieces: Pieces, neck: &Neck) {
    let view = view_of_shaped(making, pieces);
    let open = making.pieces[pieces.sleeve].seam_line();
    let beside = view.body.bounding_box().x1 - open.bounding_box().x0 + 60.0;
    let loose = pair(Affine::translate(Vec2::new(beside, 0.0)) * open);
    first(making, Picture::default().part(Side::Right, view.body.clone()).parts(Side::Right, loose));
    print(making, pieces.front, &view);
    shoulders(making, &view);
    neckline(making, neck, &view);
    let how = seam_words(making.wish.sew.seams);
    let text = format!(
        "Lay front and back open and flat. Pin the middle of the sleeve cap to the shoulder seam, single notch to the front \
         notch, double notches to the back ones, then the ends. Cap and armhole are equally long: nothing is eased in. \
         Stitch from underarm to underarm. {how}"
    );
    let picture = Picture::default()
        .parts(Side::Right, view.sleeves.clone())
        .part(Side::Right, view.body.clone())
        .done(view.shoulders.clone())
        .done(view.neck.clone())
        .now(view.armholes.clone());
    making.step("Sleeves", text, picture);
    let text = format!(
        "Fold the top at the shoulders, right sides together. Match the underarm seams. Stitch side and sleeve in one line, \
         from hem to sleeve hem; stitch twice over the underarm. {how}"
    );
    let picture = Picture::default()
        .parts(Side::Wrong, view.sleeves.clone())
        .part(Side::Wrong, view.body.clone())
        .done(view.shoulders.clone())
        .done(view.armholes.clone())
        .now(view.sides.clone());
    making.step("Sides and underarms", text, picture);
    hems(making, &view);
}

fn apart(sleeve: &BezPath, by: f64) -> BezPath {
    let way = if curve::start(sleeve).x > 0.0 { by } else { -by };
    Affine::translate(Vec2::new(way, 0.0)) * sleeve
}

/// Wash, mark, stay-stitch, cut: the same for every article.
pub(in super::super) fn first(making: &mut Making, picture: Picture) {
    let text = "Wash the cloth as the garment will be washed, dry it flat, press it. Lay the paper with its arrow along the \
                warp and chalk round the cut lines. Stitch once round every piece, 3 mm inside the chalk, before you cut: \
                hand-woven cloth opens at a cut edge. Cut, clip the notches no deeper than 4 mm, and overcast the edges that \
                are not selvedges.";
    let step = making.step("Wash, stitch round, cut", text, picture);
    step.caution = Some("Cut away from the hand that holds the cloth; close the shears when you lay them down.".into());
}

/// The print while the piece is still flat.
pub(in super::super) fn print_step(making: &mut Making, name: &str, picture: Picture) {
    let text = format!(
        "Print the {name} now, while it lies flat, inside the marked place. Let it dry, then set the colour as its label says."
    );
    let step = making.step("Print", text, picture);
    step.caution = Some("Air the room; follow the safety sheet of the ink; the iron burns.".into());
}

fn print(making: &mut Making, front: usize, view: &View) {
    let Some(print) = making.pieces[front].print else { return };
    let area = print.area.to_path(0.1);
    print_step(making, "front", Picture::default().part(Side::Right, view.body.clone()).folds([area]));
}

fn shoulders(making: &mut Making, view: &View) {
    let how = seam_words(making.wish.sew.seams);
    let text = format!(
        "Front on back, right sides together. Stitch both shoulder seams; go back and forth at both ends. {how}"
    );
    let picture = Picture::default().part(Side::Wrong, view.body.clone()).now(view.shoulders.clone());
    making.step("Shoulders", text, picture);
}

fn neckline(making: &mut Making, neck: &Neck, view: &View) {
    let say = making.say;
    let flat = neck.front <= 0.0 && neck.back <= 0.0;
    let slit_words = if neck.slit > 0.0 {
        format!(
            " Stitch down one side of the slit mark, 3 mm from it, once across its foot, and up the other side; the slit is {} \
             long. Cut along the mark to 2 mm before the stitches.",
            say.length(neck.slit)
        )
    } else {
        String::new()
    };
    let text = if flat {
        format!(
            "Between the shoulder seams turn the neck edges in twice and sew them down.{} Stitch three times across both ends \
             of the opening.",
            if neck.slit > 0.0 {
                format!(
                    " Lay the slit facing right side down on the front, in the middle.{slit_words} Turn it inside and press."
                )
            } else {
                String::new()
            }
        )
    } else {
        format!(
            "Join the facings at their shoulders. Lay them on the neck, right sides together, seams and centres matching. \
             Stitch round the neck edge.{slit_words} Clip the curve every 15 mm to 2 mm from the stitches, turn the facing in, \
             press, and sew it down by hand at the shoulder seams."
        )
    };
    let facings = making.pieces.iter().filter(|p| p.name == "front facing" || p.name == "slit facing");
    let picture = Picture::default()
        .part(Side::Right, view.body.clone())
        .parts(Side::Wrong, facings.map(Piece::seam_line))
        .done(view.shoulders.clone())
        .now(view.neck.clone())
        .now(neck.slit_line());
    let step = making.step("Neck", text, picture);
    if neck.slit > 0.0 {
        step.caution =
            Some("The cut of the slit cannot be undone: stitch first, then cut, with small pointed scissors.".into());
    }
}

fn hems(making: &mut Making, view: &View) {
    let say = making.say;
    let depth = making.hems.iter().find(|h| h.name == "hem").map(|h| h.turns());
    let (one, two) = depth.unwrap_or((10.0, 20.0));
    let text = format!(
        "Try the top on. Turn the lower edge and the sleeve edges in by {} and again by {}, press, and stitch close to the inner \
         fold. Press all seams.",
        say.length(one),
        say.length(two)
    );
    let picture = Picture::default()
        .parts(Side::Right, view.sleeves.clone())
        .part(Side::Right, view.body.clone())
        .done(view.armholes.clone())
        .done(view.neck.clone())
        .now(view.hems.clone());
    let step = making.step("Hems", text, picture);
    step.caution = Some(stitch::IRON.into());
}

/// What to do with the two raw edges.
pub(in super::super) fn seam_words(kind: SeamKind) -> &'static str {
    match kind {
        SeamKind::Plain => "Press the seam open.",
        SeamKind::Felled => {
            "Trim one allowance to 6 mm, fold the other over it, press it flat and stitch along the fold."
        }
        SeamKind::French => {
            "Sew it the first time wrong sides together, 6 mm outside the seam line; trim to 4 mm, turn, press, and sew on the \
             seam line."
        }
        SeamKind::Lapped => "Lay one selvedge 10 mm over the other and stitch along both.",
    }
}

/// Sewing order of a straight top.
pub(super) fn straight(making: &mut Making, pieces: straight::Pieces, torso: &Torso, arm: &Arm, neck: &Neck) {
    let front = &making.pieces[pieces.front];
    let (body, half, g) = (front.seam_line(), 0.5 * arm.girth, arm.gusset);
    let p = |x: f64, y: f64| Point::new(torso.quarter + x, y);
    let arm_half = shape(&[p(0.0, 0.0), p(arm.long, 0.0), p(arm.long, half), p(0.0, half)]);
    let corner = shape(&[p(0.0, half), p(g, half), p(0.0, half + g)]);
    let slope = curve::straight(p(g, half), p(0.0, half + g));
    let view = View {
        body,
        sleeves: pair(arm_half).to_vec(),
        shoulders: pair(edge(front, "shoulder_right")).to_vec(),
        neck: vec![edge(front, "neck")],
        armholes: pair(edge(front, "sleeve_right")).to_vec(),
        sides: pair(edge(front, "side_right"))
            .into_iter()
            .chain(pair(curve::straight(p(g, half), p(arm.long, half))))
            .collect(),
        hems: std::iter::once(edge(front, "hem"))
            .chain(pair(curve::straight(p(arm.long, 0.0), p(arm.long, half))))
            .collect(),
    };
    let gussets = pair(corner);
    let loose: Vec<BezPath> = view.sleeves.iter().map(|s| apart(s, 60.0)).collect();
    let square =
        Affine::translate(Vec2::new(torso.quarter + 60.0, half + 60.0)) * making.pieces[pieces.gusset].seam_line();
    first(
        making,
        Picture::default()
            .part(Side::Right, view.body.clone())
            .parts(Side::Right, loose)
            .parts(Side::Right, pair(square)),
    );
    print(making, pieces.front, &view);
    shoulders(making, &view);
    neckline(making, neck, &view);
    let how = seam_words(making.wish.sew.seams);
    let laid = || Picture::default().parts(Side::Right, view.sleeves.clone()).part(Side::Right, view.body.clone());
    let text = format!(
        "Lay front and back open and flat. Pin the middle of each sleeve to a shoulder seam and stitch from notch to notch. {how}"
    );
    making.step(
        "Sleeves",
        text,
        laid().done(view.shoulders.clone()).done(view.neck.clone()).now(view.armholes.clone()),
    );
    let text = "Sew each gusset to the sleeve, corner to notch, then to the front and the back. Start and stop on the seam \
                lines, needle down, and turn the cloth at each corner; never sew into the allowances of the next seam.";
    let edges = [curve::straight(p(0.0, half), p(0.0, half + g)), curve::straight(p(0.0, half), p(g, half))];
    let picture = laid()
        .parts(Side::Right, gussets.clone())
        .done(view.armholes.clone())
        .now(edges.into_iter().flat_map(pair))
        .folds(pair(slope.clone()));
    making.step("Gussets", text, picture);
    let text = format!(
        "Fold the top at the shoulders, right sides together, the gussets folded corner to corner. Stitch the sides from the hem \
         up to the gusset, and the sleeves from the gusset to their hem. {how}"
    );
    let picture = Picture::default()
        .parts(Side::Wrong, view.sleeves.clone())
        .part(Side::Wrong, view.body.clone())
        .parts(Side::Wrong, gussets)
        .done(view.armholes.clone())
        .now(view.sides.clone());
    making.step("Sides and underarms", text, picture);
    hems(making, &view);
}

fn shape(points: &[Point]) -> BezPath {
    let mut path = curve::polyline(points);
    path.close_path();
    path
}
