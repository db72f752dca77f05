//! A drafted garment as data: pieces with named edges, the seams between them, and what is said about them. Millimetres,
//! y down, the warp (grain) along y, every loop clockwise on the sheet. Knows how to measure itself; decides nothing.

use super::curve;
use super::fit::Fit;
use super::steps::Step;
use super::wish::{Kind, SeamKind, Stripes};
use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

/// Which cloth a piece is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cloth {
    /// The cloth of the plan.
    Main,
    /// Any thinner closely woven cloth.
    Lining,
}

/// What the edge of the cloth is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Finish {
    /// Cut, so it frays.
    Cut,
    /// The cloth's own edge.
    Selvedge,
}

/// What is done along an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Use {
    /// Sewn to another edge: the index of the seam.
    Seam(usize),
    /// Turned over twice and sewn down.
    Hem,
    /// Left as it is, overcast if cut.
    Plain,
}

/// A side of a piece, on the seam line.
#[derive(Clone, Debug)]
pub struct Edge {
    /// "side_right".
    pub name: String,
    pub path: BezPath,
    pub use_: Use,
    pub finish: Finish,
    /// Cloth beyond the seam line, mm.
    pub allowance: f64,
}

impl Edge {
    /// Along the seam line, mm.
    pub fn length(&self) -> f64 {
        curve::length(&self.path)
    }
    /// Point and direction (of length one) a distance along the seam line.
    pub fn at(&self, along: f64) -> (Point, Vec2) {
        curve::at(&self.path, along)
    }
    /// A point of the seam line and the one beside it on the cut line.
    pub fn across(&self, along: f64) -> (Point, Point) {
        let (p, d) = self.at(along);
        (p, p + curve::outward(d) * self.allowance)
    }
}

/// A mark at an edge, cut or drawn at right angles to it.
#[derive(Clone, Debug)]
pub struct Notch {
    pub edge: usize,
    /// From the start of the edge, mm.
    pub along: f64,
    /// Two marks side by side: the back of a sleeve and its armhole.
    pub double: bool,
}

/// What an inner line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkKind {
    /// Centre of front or back.
    Centre,
    /// Where the cloth is folded.
    Fold,
    /// A line of stitches inside the piece.
    Stitch,
    /// Cut inside the piece, after what the words say.
    Slit,
    /// Where another part is sewn on.
    Place,
    /// Bounds of the print.
    Print,
    /// Lies on the middle of a stripe.
    Stripe,
}

/// A line inside a piece.
#[derive(Clone, Debug)]
pub struct Mark {
    pub kind: MarkKind,
    pub path: BezPath,
    /// A few words beside it.
    pub words: String,
}

/// Where a print lies on its piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintPlace {
    pub area: Rect,
    /// From the finished edge above it, mm.
    pub below: f64,
    /// Least distance from the print to any seam line, mm.
    pub clear: f64,
}

/// How a piece lies on striped cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnStripes {
    /// The point that lies on the same place of the stripes as every other piece's.
    pub at: Point,
    /// It is folded there and sewn to itself: only stripes that are alike from both sides run on.
    pub folded: bool,
}

/// A piece of the pattern.
#[derive(Clone, Debug)]
pub struct Piece {
    /// "front".
    pub name: String,
    pub cloth: Cloth,
    /// Cut in all, for one garment.
    pub how_many: u32,
    /// Half of them are turned over: a left and a right.
    pub pairs: bool,
    /// Both halves are alike, so turning it over changes nothing.
    pub symmetric: bool,
    pub edges: Vec<Edge>,
    /// Where the scissors go: the edges moved out by their allowances.
    pub cut: BezPath,
    pub notches: Vec<Notch>,
    pub marks: Vec<Mark>,
    /// The arrow of the grain.
    pub grain: (Point, Point),
    /// Must lie this way up.
    pub one_way: bool,
    pub print: Option<PrintPlace>,
    /// Where it takes hold of the stripes; none for what need not match: straps, facings, gussets, linings.
    pub stripes: Option<OnStripes>,
}

impl Piece {
    /// The seam line, closed.
    pub fn seam_line(&self) -> BezPath {
        let mut whole = curve::chained(self.edges.iter().map(|e| &e.path));
        whole.close_path();
        whole
    }
    /// Bounds of the cut line.
    pub fn bounds(&self) -> Rect {
        self.cut.bounding_box()
    }
    /// Across the cloth, mm, as cut.
    pub fn width(&self) -> f64 {
        self.bounds().width()
    }
    /// Along the cloth, mm, as cut.
    pub fn length(&self) -> f64 {
        self.bounds().height()
    }
    /// Cloth in one of them, mm².
    pub fn area(&self) -> f64 {
        self.cut.area().abs()
    }
    /// The edge of that name.
    pub fn edge(&self, name: &str) -> Option<usize> {
        self.edges.iter().position(|e| e.name == name)
    }
    /// A notch as a line from the seam line towards the cut edge, or inward where there is no allowance, 6 mm long or the
    /// width of the allowance.
    pub fn notch_lines(&self, notch: &Notch) -> Vec<(Point, Point)> {
        let Some(edge) = self.edges.get(notch.edge) else { return Vec::new() };
        let spots: &[f64] = if notch.double { &[-3.0, 3.0] } else { &[0.0] };
        let reach = if edge.allowance > 0.0 { edge.allowance } else { -6.0 };
        spots
            .iter()
            .map(|shift| {
                let (p, d) = curve::at(&edge.path, notch.along + shift);
                (p, p + curve::outward(d) * reach)
            })
            .collect()
    }
    /// Names of the edges that are the cloth's own edge.
    pub fn selvedges(&self) -> Vec<&str> {
        self.edges.iter().filter(|e| e.finish == Finish::Selvedge).map(|e| e.name.as_str()).collect()
    }
    /// "cut 2, one turned over".
    pub fn cut_words(&self) -> String {
        let from = if self.cloth == Cloth::Lining { " in lining" } else { "" };
        match (self.how_many, self.pairs) {
            (2, true) => format!("cut 2{from}, one turned over"),
            (n, true) => format!("cut {n}{from}, half turned over"),
            (n, false) => format!("cut {n}{from}"),
        }
    }
    /// Moved by a map that keeps angles and the run of the grain (shift, or one scale for both ways).
    pub(super) fn mapped(mut self, map: Affine) -> Piece {
        for edge in &mut self.edges {
            edge.path.apply_affine(map);
        }
        for mark in &mut self.marks {
            mark.path.apply_affine(map);
        }
        self.cut.apply_affine(map);
        self.grain = (map * self.grain.0, map * self.grain.1);
        self.stripes = self.stripes.map(|on| OnStripes { at: map * on.at, ..on });
        self
    }
}

/// One side of a seam at one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EdgeRef {
    pub piece: usize,
    pub edge: usize,
}

/// Two runs of edges sewn together.
#[derive(Clone, Debug)]
pub struct Seam {
    /// "shoulder".
    pub name: String,
    pub kind: SeamKind,
    /// Edges on either side; the lengths of each are summed.
    pub a: Vec<EdgeRef>,
    pub b: Vec<EdgeRef>,
    /// How often it is sewn in one garment.
    pub times: u32,
}

/// An edge turned and sewn.
#[derive(Clone, Debug)]
pub struct Hem {
    pub name: String,
    pub edges: Vec<EdgeRef>,
    pub times: u32,
    /// Whole depth, mm: the first turn is a third of it in whole millimetres, 5 to 10 mm.
    pub depth: f64,
}

impl Hem {
    /// First and second turn, mm.
    pub fn turns(&self) -> (f64, f64) {
        let first = (self.depth / 3.0).clamp(5.0, 10.0).min(0.5 * self.depth).round();
        (first, self.depth - first)
    }
}

/// Something the draft decided or assumed.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The plan key or piece it is about: "garment.ease.chest".
    pub about: String,
    pub text: String,
    /// Who says so; "common practice, no source" where nobody does.
    pub source: &'static str,
}

/// Rules of thumb without a printed source.
pub const PRACTICE: &str = "common practice, no source";

/// The opening for the head, mm at the finished edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Round the neck, without the slit.
    pub round: f64,
    /// Length of the slit; 0 where none is needed.
    pub slit: f64,
    pub width: f64,
    pub front_depth: f64,
    pub back_depth: f64,
}

/// Finished girths and lengths of a top, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Girths {
    pub chest: f64,
    pub hem: f64,
    pub sleeve: f64,
    pub cuff: f64,
    /// Nape to hem.
    pub length: f64,
    /// Side neck point down to the underarm.
    pub armhole_depth: f64,
}

/// The drafted garment.
#[derive(Clone, Debug)]
pub struct Garment {
    pub kind: Kind,
    /// How many of it; the pieces are of one.
    pub how_many: u32,
    pub pieces: Vec<Piece>,
    pub seams: Vec<Seam>,
    pub hems: Vec<Hem>,
    pub steps: Vec<Step>,
    pub fits: Vec<Fit>,
    pub reasons: Vec<Reason>,
    pub opening: Option<Opening>,
    pub girths: Option<Girths>,
    /// Stitched lines inside pieces, mm in all: slit, box of a handle, pleat.
    pub inner_stitching: f64,
    /// How its seams are made unless one says otherwise, and their allowance, mm.
    pub seam_kind: SeamKind,
    pub allowance: f64,
    /// Words in inches.
    pub inches: bool,
    /// Stripes that are to meet at its seams.
    pub stripes: Stripes,
}

impl Garment {
    /// The first piece of that name.
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.name == name)
    }
    /// The edge a reference names.
    pub fn edge(&self, at: EdgeRef) -> Option<&Edge> {
        self.pieces.get(at.piece)?.edges.get(at.edge)
    }
    /// Names of the seams at which the stripes meet.
    pub fn meeting(&self) -> Vec<&str> {
        super::stripes::meeting(self, self.stripes)
    }
    fn run(&self, refs: &[EdgeRef]) -> f64 {
        refs.iter().filter_map(|&r| self.edge(r)).fold(0.0, |sum, edge| sum + edge.length())
    }
    /// Lengths of both sides of a seam, mm.
    pub fn seam_lengths(&self, seam: &Seam) -> (f64, f64) {
        (self.run(&seam.a), self.run(&seam.b))
    }
    /// Length of a hem once, mm.
    pub fn hem_length(&self, hem: &Hem) -> f64 {
        self.run(&hem.edges)
    }
    /// The piece of the main cloth that is widest across the cloth, as cut.
    pub fn widest(&self) -> Option<&Piece> {
        self.pieces.iter().filter(|p| p.cloth == Cloth::Main).max_by(|a, b| a.width().total_cmp(&b.width()))
    }
}
