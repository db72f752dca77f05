//! The bench on which a draft is put together: pieces from named edges, seams between edges by name, hems, reasons; and at
//! the end one pass that applies what the cloth still shrinks, moves the edges out by their allowances and proves each
//! outline. Millimetres. Knows no article.

use super::curve;
use super::fault::Fault;
use super::fit::{Amount, Bound, Fit};
use super::outline;
use super::piece::{
    Cloth, Edge, EdgeRef, Finish, Garment, Girths, Hem, Mark, MarkKind, Notch, Opening, PRACTICE, Piece, PrintPlace,
    Reason, Seam, Use,
};
use super::rules;
use super::steps::Step;
use super::stripes::{self, Tied};
use super::wish::{SeamKind, SewWish, Wish};
use super::words::Say;
use crate::geom;
use crate::units::{Length, MM, Q};
use kurbo::{Affine, BezPath, Point, Rect, Shape};

/// Millimetres of an optional length.
pub(super) fn mm(length: Option<Q<Length>>) -> Option<f64> {
    length.map(|q| q.get(&MM))
}

/// What is known of a piece before its cut line.
pub(super) struct Blank {
    pub name: String,
    pub cloth: Cloth,
    pub how_many: u32,
    pub pairs: bool,
    pub symmetric: bool,
    /// Name and seam-line path, clockwise.
    pub edges: Vec<(String, BezPath)>,
    pub marks: Vec<Mark>,
    /// Edge, distance along it, double.
    pub notches: Vec<(&'static str, f64, bool)>,
    pub print: Option<PrintPlace>,
    /// Shows on the outside, so that its stripes are to meet its neighbours'.
    pub shows: bool,
}

impl Blank {
    pub(super) fn of(name: &str, how_many: u32, edges: Vec<(&str, BezPath)>) -> Blank {
        let edges = edges.into_iter().map(|(n, p)| (n.to_string(), p)).collect();
        Blank {
            name: name.to_string(),
            cloth: Cloth::Main,
            how_many,
            pairs: false,
            symmetric: true,
            edges,
            marks: Vec::new(),
            notches: Vec::new(),
            print: None,
            shows: true,
        }
    }
    /// A rectangle with its top left corner at `at`: edges top, right, bottom, left under the names given.
    pub(super) fn rectangle(name: &str, how_many: u32, area: Rect, names: [&str; 4]) -> Blank {
        let corner = [
            Point::new(area.x0, area.y0),
            Point::new(area.x1, area.y0),
            Point::new(area.x1, area.y1),
            Point::new(area.x0, area.y1),
        ];
        let edges = (0..4).map(|i| (names[i], curve::straight(corner[i], corner[(i + 1) % 4]))).collect();
        Blank::of(name, how_many, edges)
    }
    pub(super) fn mark(mut self, kind: super::piece::MarkKind, path: BezPath, words: impl Into<String>) -> Blank {
        self.marks.push(Mark { kind, path, words: words.into() });
        self
    }
    pub(super) fn notch(mut self, edge: &'static str, along: f64, double: bool) -> Blank {
        self.notches.push((edge, along, double));
        self
    }
    /// Inside, or too small a part to match.
    pub(super) fn hidden(mut self) -> Blank {
        self.shows = false;
        self
    }
    pub(super) fn paired(mut self) -> Blank {
        (self.pairs, self.symmetric) = (true, false);
        self
    }
}

/// A loop that is the same on both sides of x = 0, from its right half: paths from the top of the centre line round to its
/// foot. The first and last run on over the centre; the others get `_right` and `_left`.
pub(super) fn both_halves(right: Vec<(&str, BezPath)>) -> Vec<(String, BezPath)> {
    let last = right.len() - 1;
    let over = |(name, path): &(&str, BezPath), first: bool| {
        let other = curve::mirrored(path);
        let whole = if first { curve::chained([&other, path]) } else { curve::chained([path, &other]) };
        (name.to_string(), whole)
    };
    let mut edges = vec![over(&right[0], true)];
    edges.extend(right[1..last].iter().map(|(n, p)| (format!("{n}_right"), p.clone())));
    edges.push(over(&right[last], false));
    edges.extend(right[1..last].iter().rev().map(|(n, p)| (format!("{n}_left"), curve::mirrored(p))));
    edges
}

/// The draft on the bench.
pub(super) struct Making<'a> {
    pub wish: &'a Wish,
    pub say: Say,
    pub pieces: Vec<Piece>,
    pub seams: Vec<Seam>,
    pub hems: Vec<Hem>,
    pub steps: Vec<Step>,
    pub fits: Vec<Fit>,
    pub reasons: Vec<Reason>,
    pub faults: Vec<Fault>,
    pub opening: Option<Opening>,
    pub girths: Option<Girths>,
    pub inner_stitching: f64,
    pub tied: Vec<Tied>,
}

impl<'a> Making<'a> {
    pub(super) fn new(wish: &'a Wish) -> Making<'a> {
        Making {
            wish,
            say: Say { inches: wish.inches },
            pieces: Vec::new(),
            seams: Vec::new(),
            hems: Vec::new(),
            steps: Vec::new(),
            fits: Vec::new(),
            reasons: Vec::new(),
            faults: Vec::new(),
            opening: None,
            girths: None,
            inner_stitching: 0.0,
            tied: Vec::new(),
        }
    }

    /// A reason that nobody has printed.
    pub(super) fn because(&mut self, about: &str, text: impl Into<String>) {
        self.reasons.push(Reason { about: about.to_string(), text: text.into(), source: PRACTICE });
    }
    /// A reason with its source.
    pub(super) fn says(&mut self, source: &'static str, about: &str, text: impl Into<String>) {
        self.reasons.push(Reason { about: about.to_string(), text: text.into(), source });
    }
    pub(super) fn fault(&mut self, code: &'static str, keys: &[&str], text: impl Into<String>) {
        self.faults.push(Fault::new(code, keys, text));
    }
    pub(super) fn step(&mut self, title: &str, text: impl Into<String>, picture: super::steps::Picture) -> &mut Step {
        self.steps.push(Step { title: title.to_string(), text: text.into(), picture, caution: None });
        let last = self.steps.len() - 1;
        &mut self.steps[last]
    }

    /// Lays a piece on the bench, its edges still plain.
    pub(super) fn add(&mut self, blank: Blank) -> usize {
        let edges: Vec<Edge> = blank
            .edges
            .into_iter()
            .map(|(name, path)| Edge { name, path, use_: Use::Plain, finish: Finish::Cut, allowance: 0.0 })
            .collect();
        let notches = blank
            .notches
            .iter()
            .filter_map(|&(name, along, double)| {
                let edge = edges.iter().position(|e| e.name == name)?;
                Some(Notch { edge, along, double })
            })
            .collect();
        let stripes = if blank.shows { stripes::alone(&edges, &blank.marks) } else { None };
        self.pieces.push(Piece {
            name: blank.name,
            cloth: blank.cloth,
            how_many: blank.how_many,
            pairs: blank.pairs,
            symmetric: blank.symmetric,
            edges,
            cut: BezPath::new(),
            notches,
            marks: blank.marks,
            grain: (Point::ZERO, Point::ZERO),
            one_way: self.wish.one_way,
            print: blank.print,
            stripes,
        });
        self.pieces.len() - 1
    }

    fn find(&self, piece: usize, name: &str) -> Option<EdgeRef> {
        self.pieces[piece].edge(name).map(|edge| EdgeRef { piece, edge })
    }

    /// Sews runs of edges together with allowance `allowance`; an edge `x_right` takes `x_left` along, being sewn the same
    /// way.
    pub(super) fn sew(&mut self, name: &str, allowance: f64, a: &[(usize, &str)], b: &[(usize, &str)], times: u32) {
        let kind = self.wish.sew.seams;
        self.sew_as(name, kind, allowance, a, b, times);
    }
    pub(super) fn sew_as(
        &mut self,
        name: &str,
        kind: SeamKind,
        allowance: f64,
        a: &[(usize, &str)],
        b: &[(usize, &str)],
        times: u32,
    ) {
        let index = self.seams.len();
        for &(piece, edge) in a.iter().chain(b) {
            self.treat(piece, edge, Use::Seam(index), allowance);
            if let Some(stem) = edge.strip_suffix("_right") {
                self.treat(piece, &format!("{stem}_left"), Use::Seam(index), allowance);
            }
        }
        let refs = |list: &[(usize, &str)]| list.iter().filter_map(|&(p, e)| self.find(p, e)).collect();
        let (a, b) = (refs(a), refs(b));
        self.seams.push(Seam { name: name.to_string(), kind, a, b, times });
    }

    /// Hems an edge.
    pub(super) fn hem(&mut self, name: &str, depth: f64, edges: &[(usize, &str)], times: u32) {
        for &(piece, edge) in edges {
            self.treat(piece, edge, Use::Hem, depth);
        }
        let edges = edges.iter().filter_map(|&(p, e)| self.find(p, e)).collect();
        self.hems.push(Hem { name: name.to_string(), edges, times, depth });
    }

    pub(super) fn treat(&mut self, piece: usize, edge: &str, use_: Use, allowance: f64) {
        if let Some(at) = self.pieces[piece].edge(edge) {
            let edge = &mut self.pieces[piece].edges[at];
            (edge.use_, edge.allowance) = (use_, allowance);
        }
    }

    /// Seam allowance by the kind of seam, or as wished.
    pub(super) fn allowance(&mut self) -> f64 {
        let sew = self.wish.sew;
        let usual = match sew.seams {
            SeamKind::Plain | SeamKind::Felled | SeamKind::French => rules::ALLOWANCE,
            SeamKind::Lapped => rules::LAPPED,
        };
        self.held(sew, mm(sew.allowance).unwrap_or(usual))
    }
    /// Allowance of an edge that ends up inside.
    pub(super) fn enclosed(&mut self) -> f64 {
        let sew = self.wish.sew;
        self.held(sew, rules::ENCLOSED.min(mm(sew.allowance).unwrap_or(rules::ENCLOSED)))
    }
    fn held(&mut self, sew: SewWish, allowance: f64) -> f64 {
        let (low, high) = rules::ALLOWANCE_BOUNDS;
        if !(low..=high).contains(&allowance) {
            let text = format!("a seam allowance of {allowance:.1} mm cannot be sewn: {low:.0} to {high:.0} mm can");
            self.fault("bad-allowance", &["garment.seam.allowance"], text);
            return rules::ALLOWANCE;
        }
        if sew.open_cloth { allowance.max(rules::OPEN_CLOTH) } else { allowance }
    }
    /// Depth of a hem, or as wished.
    pub(super) fn hem_depth(&mut self, usual: f64) -> f64 {
        let (low, high) = rules::HEM_BOUNDS;
        let depth = mm(self.wish.sew.hem).unwrap_or(usual);
        if !(low..=high).contains(&depth) {
            let text = format!("a hem of {depth:.1} mm cannot be turned: {low:.0} to {high:.0} mm can");
            self.fault("bad-hem", &["garment.hem"], text);
            return usual;
        }
        depth
    }

    /// The garment, or everything that stands against it.
    pub(super) fn finish(mut self) -> Result<Garment, Vec<Fault>> {
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        stripes::settle(&mut self.pieces, &self.seams, &self.tied);
        let larger = self.residual();
        let mut pieces = Vec::new();
        let mut faults = Vec::new();
        for piece in std::mem::take(&mut self.pieces) {
            match finished(piece, larger) {
                Ok(piece) => pieces.push(piece),
                Err(fault) => faults.push(fault),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let allowance = self.allowance();
        let mut garment = Garment {
            kind: self.wish.kind,
            how_many: self.wish.how_many.max(1),
            pieces,
            seams: self.seams,
            hems: self.hems,
            steps: self.steps,
            fits: self.fits,
            reasons: self.reasons,
            opening: self.opening,
            girths: self.girths,
            inner_stitching: self.inner_stitching * larger,
            seam_kind: self.wish.sew.seams,
            allowance,
            inches: self.wish.inches,
            stripes: self.wish.stripes,
        };
        prove(&mut garment);
        Ok(garment)
    }

    /// What everything is cut larger by, for the shrinking that is left after the first wash.
    fn residual(&mut self) -> f64 {
        let left = self.wish.residual_shrink.to_si();
        let larger = 1.0 / (1.0 - left);
        let text = if left > 0.0 {
            format!(
                "cut {:.1} % larger: the washed cloth is taken to shrink {:.1} % more",
                100.0 * (larger - 1.0),
                100.0 * left
            )
        } else {
            "sizes are of the finished, washed garment: wash and press the cloth before cutting, as it will be washed \
             later. Cloth washed once may still shrink 1 to 3 %"
                .to_string()
        };
        self.because("cloth.later_shrink", text);
        larger
    }
}

/// A piece with its cut line and grain arrow, scaled for the shrinking to come, proved simple.
fn finished(piece: Piece, larger: f64) -> Result<Piece, Fault> {
    let mut piece = piece.mapped(Affine::scale(larger));
    for notch in &mut piece.notches {
        notch.along *= larger;
    }
    if let Some(print) = &mut piece.print {
        print.area = Rect::from_points(
            (print.area.origin().to_vec2() * larger).to_point(),
            Point::new(print.area.x1 * larger, print.area.y1 * larger),
        );
    }
    cut(piece)
}

/// The piece with its cut line and grain arrow drawn afresh.
pub(super) fn cut(mut piece: Piece) -> Result<Piece, Fault> {
    let broken = |what: String| Fault::new("bad-outline", &[], format!("piece \"{}\": {what}", piece.name));
    if let Some(flaw) = geom::flaw(&outline::polygon(&piece.seam_line())) {
        return Err(broken(flaw.to_string()));
    }
    let Some(cut) = outline::cut_line(&piece.edges) else {
        return Err(broken("the seam allowances do not fit round it".to_string()));
    };
    piece.cut = cut;
    piece.grain = grain(&piece);
    if let Some(print) = &mut piece.print {
        print.clear = clearance(print.area, &piece.edges, &piece.marks);
    }
    Ok(piece)
}

/// The questions that hang on the pieces as they are: does the print keep off the seams, are sewn edges equally long.
pub(super) fn prove(garment: &mut Garment) {
    garment.fits.retain(|f| f.code != "print-clear" && f.code != "seams-match");
    let say = Say { inches: garment.inches };
    for piece in &garment.pieces {
        let Some(print) = piece.print else { continue };
        garment.fits.push(Fit {
            code: "print-clear",
            name: "print to the nearest seam",
            value: Amount::mm(print.clear),
            limit: Amount::mm(rules::PRINT_CLEAR),
            bound: Bound::AtLeast,
            must: true,
            text: format!(
                "the print comes within {} of a seam or edge of the {}: {} is wanted",
                say.length(print.clear),
                piece.name,
                say.length(rules::PRINT_CLEAR)
            ),
            knobs: &["print.width", "print.place.below_neck"],
            source: PRACTICE,
        });
    }
    let worst = garment
        .seams
        .iter()
        .map(|seam| {
            let (a, b) = garment.seam_lengths(seam);
            ((a - b).abs(), seam.name.clone())
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((apart, name)) = worst {
        garment.fits.push(Fit {
            code: "seams-match",
            name: "edges sewn together",
            value: Amount::mm(apart),
            limit: Amount::mm(rules::SLEEVE_MATCH),
            bound: Bound::AtMost,
            must: true,
            text: format!("edges sewn together differ by {apart:.2} mm at most, at the {name} seam"),
            knobs: &[],
            source: PRACTICE,
        });
    }
}

/// An arrow along the warp: half as long as the piece, beside its centre line, where the piece is long.
fn grain(piece: &Piece) -> (Point, Point) {
    let seam_line = piece.seam_line();
    let bounds = seam_line.bounding_box();
    let inside = |x: f64| {
        let hits = (1..40).map(|i| bounds.y0 + bounds.height() * f64::from(i) / 40.0);
        let held: Vec<f64> = hits.filter(|&y| seam_line.contains(Point::new(x, y))).collect();
        (held.len(), held.first().copied().unwrap_or(bounds.y0), held.last().copied().unwrap_or(bounds.y1))
    };
    let tries = [0.30, 0.70, 0.38, 0.22, 0.78, 0.12, 0.5].map(|share| bounds.x0 + share * bounds.width());
    let held = tries.map(|x| (x, inside(x)));
    let most = held.iter().map(|(_, h)| h.0).max().unwrap_or(0);
    // Off the print where there is another place.
    let clear = |x: f64| piece.print.is_none_or(|p| x < p.area.x0 - 8.0 || x > p.area.x1 + 8.0);
    let long = |h: usize| 10 * h >= 6 * most;
    let best = held.iter().find(|(x, h)| long(h.0) && clear(*x)).or(held.iter().find(|(_, h)| long(h.0)));
    let (x, (_, top, foot)) = best.copied().unwrap_or((bounds.center().x, (0, bounds.y0, bounds.y1)));
    let long = foot - top;
    (Point::new(x, foot - 0.2 * long), Point::new(x, top + 0.3 * long))
}

/// Least distance from a rectangle to the seam line or to a slit; negative when it does not lie inside, nought when a slit runs
/// into it.
fn clearance(area: Rect, edges: &[Edge], marks: &[Mark]) -> f64 {
    let corners =
        [area.origin(), Point::new(area.x1, area.y0), Point::new(area.x1, area.y1), Point::new(area.x0, area.y1)];
    let whole = curve::chained(edges.iter().map(|e| &e.path));
    let line = outline::polygon(&whole);
    let mut least = f64::INFINITY;
    let mut meet = |a: Point, b: Point| {
        for i in 0..4 {
            let (c, d) = (corners[i], corners[(i + 1) % 4]);
            least = least.min(geom::distance_to_edge(a, c, d)).min(geom::distance_to_edge(c, a, b));
        }
    };
    geom::edges(&line).for_each(|(a, b)| meet(a, b));
    let mut cut_open = false;
    for slit in marks.iter().filter(|mark| mark.kind == MarkKind::Slit) {
        let way = outline::polygon(&slit.path);
        // both ways, since only its first point is asked how near it lies
        way.windows(2).for_each(|pair| meet(pair[0], pair[1]));
        way.windows(2).for_each(|pair| meet(pair[1], pair[0]));
        cut_open |= way.iter().any(|p| area.contains(*p));
    }
    if cut_open {
        return 0.0;
    }
    let mut closed = whole;
    closed.close_path();
    if corners.iter().all(|&c| closed.contains(c)) { least } else { -least }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A slit that ends 20 mm above the print leaves it 20 mm of room; one that runs into it leaves none.
    #[test]
    fn a_print_keeps_off_a_slit() {
        let corners = [(0.0, 0.0), (400.0, 0.0), (400.0, 600.0), (0.0, 600.0)].map(|(x, y)| Point::new(x, y));
        let edge = |i: usize| Edge {
            name: String::new(),
            path: curve::straight(corners[i], corners[(i + 1) % 4]),
            use_: Use::Plain,
            finish: Finish::Cut,
            allowance: 0.0,
        };
        let edges: Vec<Edge> = (0..4).map(edge).collect();
        let slit = |foot: f64| Mark {
            kind: MarkKind::Slit,
            path: curve::straight(Point::new(200.0, 0.0), Point::new(200.0, foot)),
            words: String::new(),
        };
        let area = Rect::new(100.0, 100.0, 300.0, 300.0);
        let clear = |marks: &[Mark]| clearance(area, &edges, marks);
        assert_eq!((clear(&[]), clear(&[slit(80.0)]), clear(&[slit(150.0)])), (100.0, 20.0, 0.0));
    }
}
