//! The garment on a cloth of one width: a piece wider than the cloth is cut into panels where a seam is least seen, and an
//! edge that comes to lie on the edge of the cloth is the cloth's own. The front is never cut down its middle, nor a print
//! anywhere. Millimetres inside. Knows no layout: what fits is decided by width alone.

use super::curve;
use super::fault::Fault;
use super::make;
use super::piece::{
    Cloth, Edge, EdgeRef, Finish, Garment, Hem, Mark, MarkKind, Notch, PRACTICE, Piece, Reason, Seam, Use,
};
use super::rules;
use super::steps::{Picture, Side, Step};
use super::tee::pictures;
use super::words::Say;
use crate::units::{Length, MM, Q};
use kurbo::{BezPath, Line, ParamCurve, Point, Shape};

/// How far an edge may lie from the edge of the cloth and still be it, mm.
const FLUSH: f64 = 1.0;
/// Least seam allowance of a selvedge, which does not fray, mm.
const SELVEDGE_SEAM: f64 = 8.0;
/// Least width of a panel between its seams, mm.
const PANEL_LEAST: f64 = 30.0;
/// What a side seam keeps away from the neck, mm.
const BESIDE_NECK: f64 = 20.0;
/// Most panels from one piece: past this the cloth is a ribbon.
const PANELS_MOST: usize = 12;

/// The garment as it can be cut from cloth `width` wide. Pieces that fit stay as they are. Fails when a piece cannot be
/// split there by straight seams along the warp: the fault says the least width that would do, where there is one.
pub fn on_cloth(garment: &Garment, width: Q<Length>) -> Result<Garment, Vec<Fault>> {
    on_cloth_with(garment, width.get(&MM), None)
}

/// The same on striped cloth: pieces that match the stripes are split until each leaves `room` beside it, a repeat across the cloth, so
/// that it finds its place. None of them then lies on the edge of the cloth for certain.
pub fn on_striped_cloth(garment: &Garment, width: Q<Length>, room: Q<Length>) -> Result<Garment, Vec<Fault>> {
    on_cloth_with(garment, width.get(&MM), Some(room.get(&MM)))
}

fn on_cloth_with(garment: &Garment, wide: f64, room: Option<f64>) -> Result<Garment, Vec<Fault>> {
    if !(wide.is_finite() && wide > 2.0 * garment.allowance + PANEL_LEAST) {
        let text = format!("cloth {:.1} cm wide holds no piece of this garment", wide / 10.0);
        return Err(vec![Fault::new("cloth-too-narrow", &["cloth.width", "loom.weaving_width"], text)]);
    }
    let mut work = garment.clone();
    let mut faults = Vec::new();
    let mut at = 0;
    let mut joins = Vec::new();
    let first = work.pieces.len();
    while at < work.pieces.len() {
        let room = room.filter(|_| work.pieces[at].stripes.is_some());
        let fits = match room {
            Some(room) => work.pieces[at].width() <= wide - room + 1e-6,
            None => fits(&mut work, at, wide),
        };
        if work.pieces[at].cloth == Cloth::Main && !fits {
            match split(&mut work, at, wide - room.unwrap_or(0.0)) {
                Ok(join) if work.pieces.len() < first + PANELS_MOST * first => {
                    joins.push(join);
                    // The piece that took this place is looked at again.
                    continue;
                }
                Ok(_) => faults.push(too_narrow(&work.pieces[at], wide, None)),
                Err(fault) => faults.push(fault),
            }
        }
        at += 1;
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    if !joins.is_empty() {
        join_step(&mut work, &joins);
    }
    make::prove(&mut work);
    Ok(work)
}

fn too_narrow(piece: &Piece, wide: f64, needs: Option<f64>) -> Fault {
    let needs = needs.map_or(String::new(), |mm| format!(": it needs {:.1} cm", mm / 10.0));
    let text = format!(
        "the {} is {:.1} cm wide and cannot be split for cloth {:.1} cm wide{needs}",
        piece.name,
        piece.width() / 10.0,
        wide / 10.0
    );
    Fault::new("cloth-too-narrow", &["cloth.width", "loom.weaving_width"], text)
}

/// Indices of the edges that are the whole left and right side of a piece, straight along the warp.
fn sides(piece: &Piece) -> Option<Vec<usize>> {
    let bounds = piece.seam_line().bounding_box();
    let upright = |x: f64| -> Vec<usize> {
        let lies = |e: &Edge| e.path.segments().all(|s| (s.start().x - x).abs() < 1e-6 && (s.end().x - x).abs() < 1e-6);
        (0..piece.edges.len()).filter(|&i| lies(&piece.edges[i])).collect()
    };
    let (left, right) = (upright(bounds.x0), upright(bounds.x1));
    (!left.is_empty() && !right.is_empty()).then(|| left.into_iter().chain(right).collect())
}

/// Whether the piece fits, on the cloth's own edges if need be.
fn fits(garment: &mut Garment, at: usize, wide: f64) -> bool {
    let piece = &garment.pieces[at];
    let cut = piece.width();
    if cut <= wide - FLUSH {
        return true;
    }
    let Some(sides) = sides(piece) else { return cut <= wide + 1e-6 };
    let seam_line = piece.seam_line().bounding_box().width();
    let room = 0.5 * (wide - seam_line);
    let hemmed = sides.iter().all(|&i| piece.edges[i].use_ == Use::Hem);
    let sewn = sides.iter().all(|&i| matches!(piece.edges[i].use_, Use::Seam(_)));
    let spare = if hemmed { rules::SIDE_HEM } else { garment.allowance };
    let allowance = if cut <= wide + 1e-6 {
        piece.edges[sides[0]].allowance
    } else if room >= SELVEDGE_SEAM && (sewn || hemmed) && cut <= wide + 2.0 * spare {
        room
    } else if hemmed && (-1e-6..=FLUSH).contains(&room) {
        0.0
    } else {
        return false;
    };
    own_edges(garment, at, &sides, allowance, hemmed && allowance < SELVEDGE_SEAM, wide)
}

/// The sides of a piece become the cloth's own edges, if the whole piece then fits; `bare`: their hem falls away.
fn own_edges(garment: &mut Garment, at: usize, sides: &[usize], allowance: f64, bare: bool, wide: f64) -> bool {
    let mut piece = garment.pieces[at].clone();
    for &i in sides {
        let edge = &mut piece.edges[i];
        (edge.finish, edge.allowance) = (Finish::Selvedge, allowance);
        if bare {
            edge.use_ = Use::Plain;
        }
    }
    match make::cut(piece) {
        Ok(piece) if piece.width() <= wide + 1e-6 => garment.pieces[at] = piece,
        _ => return false,
    }
    if bare {
        for hem in &mut garment.hems {
            hem.edges.retain(|r| !(r.piece == at && sides.contains(&r.edge)));
        }
        garment.hems.retain(|hem| !hem.edges.is_empty());
    }
    let name = &garment.pieces[at].name;
    let text = format!("the sides of the {name} are the cloth's own edges: they do not fray and need no overcasting");
    garment.reasons.push(Reason { about: name.clone(), text, source: PRACTICE });
    true
}

/// A seam added: the piece it went through and its line.
struct Join {
    outline: BezPath,
    lines: Vec<BezPath>,
}

fn split(garment: &mut Garment, at: usize, wide: f64) -> Result<Join, Fault> {
    let piece = garment.pieces[at].clone();
    let seam_line = piece.seam_line();
    let bounds = seam_line.bounding_box();
    let centre_line = piece.marks.iter().find(|m| m.kind == MarkKind::Centre);
    let middle = centre_line.map_or(bounds.center().x, |m| curve::start(&m.path).x);
    let beside = ["front", "front facing", "apron"].contains(&piece.name.as_str()) || piece.print.is_some();
    let half = 0.5 * bounds.width() + 0.5 * (piece.width() - bounds.width()) + garment.allowance;
    let whole_in_two = half <= wide;
    if !beside && (whole_in_two || !piece.symmetric) {
        return halve(garment, at, middle);
    }
    let (centre, least) = centre_panel(garment, &piece, wide);
    if centre < least && !beside {
        return halve(garment, at, middle);
    }
    if centre < least {
        return Err(too_narrow(&piece, wide, Some(least + 2.0 * garment.allowance)));
    }
    // Where the seam would meet an armhole more than once, or the corner of a shoulder stands out beyond it, it moves in.
    let mut panel = centre;
    while panel >= least {
        let mut tried = garment.clone();
        if let Ok(join) = three(&mut tried, at, 0.5 * panel)
            && tried.pieces[at].width() <= wide + 1e-6
        {
            *garment = tried;
            return Ok(join);
        }
        panel -= 2.0;
    }
    Err(crooked(&piece))
}

/// Width between the seams of the middle panel, as great as the cloth and the side panels allow, and the least that keeps
/// the seams off the neck and the print.
fn centre_panel(garment: &Garment, piece: &Piece, wide: f64) -> (f64, f64) {
    let whole = piece.seam_line().bounding_box().width();
    let centre = (wide - 2.0 * garment.allowance).min(whole - 2.0 * PANEL_LEAST);
    let neck = piece.edge("neck").map_or(0.0, |i| piece.edges[i].path.bounding_box().width() + 2.0 * BESIDE_NECK);
    let print = piece.print.map_or(0.0, |p| {
        let reach = p.area.x1.abs().max(p.area.x0.abs());
        2.0 * (reach + rules::PRINT_CLEAR)
    });
    (centre, neck.max(print).max(PANEL_LEAST))
}

/// A piece parted by the line x = `at`: the two loops, right then left, each closed by its join, with the old edge of each
/// new one (`None`: the join).
struct Parted {
    right: Vec<(Edge, Option<(usize, f64)>)>,
    left: Vec<(Edge, Option<(usize, f64)>)>,
    line: BezPath,
}

fn part(piece: &Piece, x: f64, seam: usize, allowance: f64) -> Option<Parted> {
    let bounds = piece.seam_line().bounding_box();
    let line = Line::new((x, bounds.y0 - 10.0), (x, bounds.y1 + 10.0));
    let mut hits: Vec<(usize, usize, f64, Point)> = Vec::new();
    for (e, edge) in piece.edges.iter().enumerate() {
        for (s, seg) in edge.path.segments().enumerate() {
            for hit in seg.intersect_line(line) {
                let t = hit.segment_t.clamp(0.0, 1.0);
                let p = seg.eval(t);
                if hits.iter().all(|h| h.3.distance(p) > 1e-4) {
                    hits.push((e, s, t, p));
                }
            }
        }
    }
    let [a, b] = hits.as_slice() else { return None };
    let first = between(piece, a, b);
    let second = between(piece, b, a);
    let join = |from: Point, to: Point| Edge {
        name: "join".into(),
        path: curve::straight(from, to),
        use_: Use::Seam(seam),
        finish: Finish::Cut,
        allowance,
    };
    let mut loops = [first, second];
    loops[0].push((join(b.3, a.3), None));
    loops[1].push((join(a.3, b.3), None));
    let reach =
        |l: &[(Edge, Option<(usize, f64)>)]| l.iter().map(|(e, _)| e.path.bounding_box().x1).fold(f64::MIN, f64::max);
    let [first, second] = loops;
    let (right, left) = if reach(&first) > reach(&second) { (first, second) } else { (second, first) };
    Some(Parted { right, left, line: curve::straight(a.3, b.3) })
}

type Hit = (usize, usize, f64, Point);

/// The edges from one crossing round to the other, with the old edge and how far along it each begins.
fn between(piece: &Piece, from: &Hit, to: &Hit) -> Vec<(Edge, Option<(usize, f64)>)> {
    let n = piece.edges.len();
    let mut run = Vec::new();
    let mut push = |edge: &Edge, path: BezPath, index: usize, begins: f64| {
        if curve::length(&path) > 1e-3 {
            run.push((Edge { path, ..edge.clone() }, Some((index, begins))));
        }
    };
    let first = &piece.edges[from.0];
    let (before, after) = curve::cut_at(&first.path, from.1, from.2);
    let same = from.0 == to.0 && (from.1, from.2) < (to.1, to.2);
    if same {
        // Both crossings lie on one edge, in order: the run is the piece of it between them.
        let (head, _) = curve::cut_at(&first.path, to.1, to.2);
        let long = curve::length(&before);
        let path = tail(&head, long);
        push(first, path, from.0, long);
        return run;
    }
    push(first, after, from.0, curve::length(&before));
    for step in 1..=n {
        let index = (from.0 + step) % n;
        if index == to.0 {
            let (head, _) = curve::cut_at(&piece.edges[index].path, to.1, to.2);
            push(&piece.edges[index], head, index, 0.0);
            break;
        }
        push(&piece.edges[index], piece.edges[index].path.clone(), index, 0.0);
    }
    run
}

/// What is left of a path after its first `long` mm.
fn tail(path: &BezPath, long: f64) -> BezPath {
    let mut left = long;
    for (i, seg) in path.segments().enumerate() {
        let part = curve::length(&BezPath::from_path_segments(std::iter::once(seg)));
        if left < part {
            let t = kurbo::ParamCurveArclen::inv_arclen(&seg, left, 1e-6);
            return curve::cut_at(path, i, t).1;
        }
        left -= part;
    }
    BezPath::new()
}

/// A new piece from a loop, with the notches and marks that lie on it.
fn panel(old: &Piece, name: String, run: &[(Edge, Option<(usize, f64)>)]) -> Result<Piece, Fault> {
    let edges: Vec<Edge> = run.iter().map(|(e, _)| e.clone()).collect();
    let mut piece = Piece { name, edges, notches: Vec::new(), marks: Vec::new(), print: None, ..old.clone() };
    for (i, (edge, from)) in run.iter().enumerate() {
        let Some((index, begins)) = *from else { continue };
        let long = edge.length();
        let here = old.notches.iter().filter(|n| n.edge == index);
        let inside = here.filter(|n| n.along >= begins - 1e-6 && n.along <= begins + long + 1e-6);
        piece.notches.extend(inside.map(|n| Notch { edge: i, along: n.along - begins, double: n.double }));
    }
    let bounds = piece.seam_line().bounding_box();
    piece.marks = old.marks.iter().filter_map(|m| clipped(m, bounds.x0, bounds.x1)).collect();
    piece.print = old.print.filter(|p| p.area.x0 >= bounds.x0 - 1e-6 && p.area.x1 <= bounds.x1 + 1e-6);
    // Half-way marks of the join.
    if let Some(join) = piece.edges.iter().position(|e| e.name == "join") {
        let along = 0.5 * piece.edges[join].length();
        piece.notches.push(Notch { edge: join, along, double: false });
    }
    make::cut(piece)
}

/// A mark as far as it lies on a panel: level lines are cut to it, others stay whole or go.
fn clipped(mark: &Mark, left: f64, right: f64) -> Option<Mark> {
    let b = mark.path.bounding_box();
    if b.x0 > left + 1e-3 && b.x1 < right - 1e-3 {
        return Some(mark.clone());
    }
    let (x0, x1) = (b.x0.max(left), b.x1.min(right));
    let level = mark.kind == MarkKind::Fold && b.height() < 1e-6;
    (level && x1 - x0 > 1.0).then(|| {
        let path = curve::straight(Point::new(x0, b.y0), Point::new(x1, b.y0));
        Mark { path, ..mark.clone() }
    })
}

/// Where each old edge went: new piece, new edge.
type Moves = Vec<(usize, EdgeRef)>;

fn moves(run: &[(Edge, Option<(usize, f64)>)], piece: usize) -> Moves {
    run.iter().enumerate().filter_map(|(edge, (_, from))| Some(((*from)?.0, EdgeRef { piece, edge }))).collect()
}

/// Puts `panels` in the place of piece `at` and mends every reference; `moved` names the new edges of its old ones, counted
/// from the first panel.
fn replace(garment: &mut Garment, at: usize, panels: Vec<Piece>, moved: &Moves) {
    let more = panels.len() - 1;
    let mend = |refs: &mut Vec<EdgeRef>| {
        *refs = refs
            .iter()
            .flat_map(|r| {
                if r.piece == at {
                    let new = moved.iter().filter(|(old, _)| *old == r.edge);
                    new.map(|(_, to)| EdgeRef { piece: at + to.piece, edge: to.edge }).collect()
                } else if r.piece > at {
                    vec![EdgeRef { piece: r.piece + more, edge: r.edge }]
                } else {
                    vec![*r]
                }
            })
            .collect();
    };
    for seam in &mut garment.seams {
        mend(&mut seam.a);
        mend(&mut seam.b);
    }
    for Hem { edges, .. } in &mut garment.hems {
        mend(edges);
    }
    garment.pieces.splice(at..=at, panels);
}

fn join_of(panels: &[Piece], piece: usize, nth: usize) -> Option<usize> {
    panels[piece].edges.iter().enumerate().filter(|(_, e)| e.name == "join").map(|(i, _)| i).nth(nth)
}

/// One seam down the middle. A symmetric piece gives one half, cut twice, one turned over.
fn halve(garment: &mut Garment, at: usize, x: f64) -> Result<Join, Fault> {
    let old = garment.pieces[at].clone();
    let seam = garment.seams.len();
    let parted = part(&old, x, seam, garment.allowance).ok_or_else(|| crooked(&old))?;
    let say = Say { inches: garment.inches };
    let (panels, moved, words) = if old.symmetric {
        let mut half = panel(&old, format!("{} half", old.name), &parted.right)?;
        (half.how_many, half.pairs, half.symmetric) = (2 * old.how_many, true, false);
        let mut moved = moves(&parted.right, 0);
        // The left half is the right one turned over: its edges are the same edges.
        for (old_edge, _) in moves(&parted.left, 0) {
            if let Some(edge) = half.edge(&twin(&old.edges[old_edge].name)) {
                moved.push((old_edge, EdgeRef { piece: 0, edge }));
            }
        }
        (vec![half], moved, "a seam down its middle")
    } else {
        // The front of a sleeve lies to the right.
        let names = if old.name == "sleeve" { ["front", "back"] } else { ["right", "left"] };
        let right = panel(&old, format!("{} {}", old.name, names[0]), &parted.right)?;
        let left = panel(&old, format!("{} {}", old.name, names[1]), &parted.left)?;
        let mut moved = moves(&parted.right, 0);
        moved.extend(moves(&parted.left, 1));
        (vec![right, left], moved, "a seam along its middle")
    };
    let last = panels.len() - 1;
    let ends = join_of(&panels, 0, 0).zip(join_of(&panels, last, 0));
    replace(garment, at, panels, &moved);
    if let Some((a, b)) = ends {
        let (a, b) = (EdgeRef { piece: at, edge: a }, EdgeRef { piece: at + last, edge: b });
        let times = if old.symmetric { old.how_many } else { garment.pieces[at].how_many };
        add_join(garment, &old.name, a, b, times);
    }
    explain(garment, &old, &format!("{words}, {} long", say.length(curve::length(&parted.line))));
    Ok(Join { outline: old.seam_line(), lines: vec![parted.line] })
}

/// Two seams beside the middle: a middle panel that keeps the name, and a side panel cut twice, one turned over.
fn three(garment: &mut Garment, at: usize, x: f64) -> Result<Join, Fault> {
    let old = garment.pieces[at].clone();
    let seam = garment.seams.len();
    let middle = old.seam_line().bounding_box().center().x;
    let outer = part(&old, middle + x, seam, garment.allowance).ok_or_else(|| crooked(&old))?;
    let rest = Piece { edges: outer.left.iter().map(|(e, _)| e.clone()).collect(), ..old.clone() };
    let inner = part(&rest, middle - x, seam, garment.allowance).ok_or_else(|| crooked(&old))?;
    // `inner` counts edges of `rest`: back to those of the old piece.
    let back = |run: &[(Edge, Option<(usize, f64)>)]| -> Vec<(Edge, Option<(usize, f64)>)> {
        run.iter()
            .map(|(e, from)| {
                let old_from = from.and_then(|(i, d)| outer.left[i].1.map(|(j, begins)| (j, begins + d)));
                (e.clone(), old_from)
            })
            .collect()
    };
    let (centre_run, left_run) = (back(&inner.right), back(&inner.left));
    let centre = panel(&old, old.name.clone(), &centre_run)?;
    let mut moved = moves(&centre_run, 0);
    moved.extend(moves(&outer.right, 1));
    let mut side = panel(&old, format!("{} side", old.name), &outer.right)?;
    let lines = vec![outer.line.clone(), inner.line.clone()];
    let (panels, last) = if old.symmetric {
        (side.how_many, side.pairs, side.symmetric) = (2 * old.how_many, true, false);
        for (old_edge, _) in moves(&left_run, 0) {
            if let Some(edge) = side.edge(&twin(&old.edges[old_edge].name)) {
                moved.push((old_edge, EdgeRef { piece: 1, edge }));
            }
        }
        (vec![centre, side], 1)
    } else {
        let other = panel(&old, format!("{} other side", old.name), &left_run)?;
        moved.extend(moves(&left_run, 2));
        (vec![centre, side, other], 2)
    };
    let joins: Vec<Option<(usize, usize, usize)>> =
        (1..=last).map(|p| Some((join_on(&panels[0], p == 1)?, p, join_of(&panels, p, 0)?))).collect();
    replace(garment, at, panels, &moved);
    for (mine, p, theirs) in joins.into_iter().flatten() {
        let (a, b) = (EdgeRef { piece: at, edge: mine }, EdgeRef { piece: at + p, edge: theirs });
        let times = if old.symmetric { 2 * old.how_many } else { old.how_many };
        add_join(garment, &old.name, a, b, times);
    }
    explain(garment, &old, "side panels: the seams run beside the neck, never down the middle or through the print");
    Ok(Join { outline: old.seam_line(), lines })
}

/// The edge on the right (or front) half that mirrors one on the left (or back) half.
fn twin(name: &str) -> String {
    let other = |here: &str, there: &str| name.strip_suffix(here).map(|stem| format!("{stem}{there}"));
    other("_left", "_right").or_else(|| other("_back", "_front")).unwrap_or_else(|| name.to_string())
}

/// The right or left join of a middle panel.
fn join_on(piece: &Piece, right: bool) -> Option<usize> {
    let at = |i: &usize| curve::start(&piece.edges[*i].path).x;
    let joins = (0..piece.edges.len()).filter(|&i| piece.edges[i].name == "join");
    if right { joins.max_by(|a, b| at(a).total_cmp(&at(b))) } else { joins.min_by(|a, b| at(a).total_cmp(&at(b))) }
}

fn crooked(piece: &Piece) -> Fault {
    let text = format!(
        "the {} is {:.1} cm wide and its outline cannot be split by one straight seam: weave wider, or draw it in parts",
        piece.name,
        piece.width() / 10.0
    );
    Fault::new("cannot-split", &["cloth.width", "garment.piece[].name"], text)
}

fn add_join(garment: &mut Garment, name: &str, a: EdgeRef, b: EdgeRef, times: u32) {
    let index = garment.seams.len();
    for r in [a, b] {
        garment.pieces[r.piece].edges[r.edge].use_ = Use::Seam(index);
        garment.pieces[r.piece].edges[r.edge].name = format!("join {index}");
    }
    for piece in [a.piece, b.piece] {
        for edge in &mut garment.pieces[piece].edges {
            if edge.name == "join" {
                (edge.use_, edge.name) = (Use::Seam(index), format!("join {index} left"));
            }
        }
    }
    let kind = garment.seam_kind;
    garment.seams.push(Seam { name: format!("{name} panels"), kind, a: vec![a], b: vec![b], times });
}

fn explain(garment: &mut Garment, old: &Piece, how: &str) {
    let say = Say { inches: garment.inches };
    let text = format!("the {} is {} wide, wider than the cloth: {how}", old.name, say.length(old.width()));
    garment.reasons.push(Reason { about: old.name.clone(), text, source: PRACTICE });
}

/// The step that joins the panels, after the cutting.
fn join_step(garment: &mut Garment, joins: &[Join]) {
    let mut picture = Picture::default();
    let mut x = 0.0;
    for join in joins {
        let b = join.outline.bounding_box();
        let map = kurbo::Affine::translate((x - b.x0, -b.y0));
        picture = picture.part(Side::Wrong, map * join.outline.clone()).now(join.lines.iter().map(|l| map * l.clone()));
        x += b.width() + 60.0;
    }
    let text = format!(
        "Join the panels first, marks on marks, so that every piece is whole. {}",
        pictures::seam_words(garment.seam_kind)
    );
    let step = Step { title: "Join the panels".into(), text, picture, caution: None };
    garment.steps.insert(1.min(garment.steps.len()), step);
}
