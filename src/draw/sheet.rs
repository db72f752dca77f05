//! The display list: what a drawing is before it has a file format. Units are millimetres on the paper, y down, origin top
//! left. A line says what it *means* ([`Line`]); weight, dash, colour, CSS class and DXF layer follow from that in one place,
//! so that a cut line looks the same on the pattern, the lay and the book, and light and dark screens can differ.

pub use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

/// What a line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Line {
    /// The visible edge of a thing.
    Outline,
    /// A lesser edge on it.
    Detail,
    /// An edge behind something.
    Hidden,
    /// An axis of symmetry or a shaft.
    Centre,
    /// Where scissors, saw or laser go.
    Cut,
    /// Where the needle goes.
    Seam,
    /// Cloth on the fold.
    Fold,
    /// The run of the warp.
    Grain,
    /// A mark cut or clipped into an edge.
    Notch,
    /// The cloth's own edge.
    Selvedge,
    /// Measure lines, their arrows and leaders.
    Dimension,
    /// A chart's axis and frame.
    Axis,
    /// A faint helper: squared paper, grid of a chart.
    Grid,
    /// The first curve of a chart, and the path of a yarn, belt or wire that matters here.
    Curve,
    /// A second curve to compare.
    Second,
    /// A third curve to compare.
    Third,
    /// Bounds of a doubt.
    Doubt,
    /// Another place of a moving part, or a neighbour that is not the subject.
    Ghost,
    /// Hatching of a cut face.
    Hatch,
    /// A thing that can hurt: nip, blade, live wire.
    Danger,
}

impl Line {
    /// Every line there is, in the order of the style table.
    pub const ALL: [Line; 20] = [
        Line::Outline,
        Line::Detail,
        Line::Hidden,
        Line::Centre,
        Line::Cut,
        Line::Seam,
        Line::Fold,
        Line::Grain,
        Line::Notch,
        Line::Selvedge,
        Line::Dimension,
        Line::Axis,
        Line::Grid,
        Line::Curve,
        Line::Second,
        Line::Third,
        Line::Doubt,
        Line::Ghost,
        Line::Hatch,
        Line::Danger,
    ];
}

/// What a filled area stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fill {
    /// Ground of the paper.
    Paper,
    /// A part lying on it.
    Part,
    /// A second kind of part.
    OtherPart,
    /// Warp yarn as a symbol.
    Warp,
    /// Weft yarn as a symbol.
    Weft,
    /// Band of a doubt.
    Doubt,
    /// Passed.
    Good,
    /// Warned.
    Watch,
    /// Failed.
    Bad,
    /// Solid ink, for marks read by machine or eye at any theme.
    Ink,
    /// Solid in the colour of measure lines: their arrow heads, the dot of a leader.
    Quiet,
    /// Solid in the colour of [`Line::Curve`]: its points and bars.
    Curve,
    /// Solid in the colour of [`Line::Second`]: its points and bars.
    Second,
    /// Solid madder: a warning sign, a live part.
    Danger,
    /// Fibre in a picture of quantities: raw, clean, prepared.
    Fibre,
    /// Yarn in a picture of quantities.
    Yarn,
    /// Cloth and garment in a picture of quantities.
    Cloth,
    /// What is lost on the way.
    Loss,
    /// A yarn's own colour.
    Rgb(u8, u8, u8),
}

impl Fill {
    /// Every fill that has a name, in the order of the style table.
    pub const ALL: [Fill; 18] = [
        Fill::Paper,
        Fill::Part,
        Fill::OtherPart,
        Fill::Warp,
        Fill::Weft,
        Fill::Doubt,
        Fill::Good,
        Fill::Watch,
        Fill::Bad,
        Fill::Ink,
        Fill::Quiet,
        Fill::Curve,
        Fill::Second,
        Fill::Danger,
        Fill::Fibre,
        Fill::Yarn,
        Fill::Cloth,
        Fill::Loss,
    ];
}

/// How words are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Type {
    /// The sheet's name.
    Title,
    /// A part of the sheet.
    Heading,
    /// Words.
    Body,
    /// Words that stand out: the name of a part, a total, the head of a column.
    Strong,
    /// Small words and table cells.
    Small,
    /// Small words that stand out: totals of a table, names in a picture.
    Label,
    /// Small words that stay behind the rest: notes, sources, names of axes.
    Note,
    /// Numbers on measure lines and axes; a rim of paper keeps lines off them.
    Figure,
    /// The head of a caution.
    Caution,
}

impl Type {
    /// Every type there is, in the order of the style table.
    pub const ALL: [Type; 9] = [
        Type::Title,
        Type::Heading,
        Type::Body,
        Type::Strong,
        Type::Small,
        Type::Label,
        Type::Note,
        Type::Figure,
        Type::Caution,
    ];

    /// Height of the type in millimetres (em size).
    pub fn size(self) -> f64 {
        match self {
            Type::Title => 6.2,
            Type::Heading => 4.6,
            Type::Body | Type::Strong => 3.4,
            Type::Small | Type::Label | Type::Note => 2.7,
            Type::Figure => 2.7,
            Type::Caution => 3.4,
        }
    }
}

/// Which part of the words stands at the point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// One thing on a sheet.
#[derive(Clone, Debug)]
pub enum Item {
    /// A line along a path, a filled area, or both.
    Path { path: BezPath, line: Option<Line>, fill: Option<Fill> },
    /// One line of words; `turn` in degrees clockwise about `at`, which lies on the base line.
    Words { at: Point, text: String, kind: Type, anchor: Anchor, turn: f64 },
    /// Things that belong together. `name` is the SVG group's id (in a file) or `data-name` (in a page); `title` is what
    /// hover, tap and a screen reader say of it. `place` maps the group's own millimetres to the sheet's: it moves, turns,
    /// mirrors and scales the shapes, but line weights, dashes and type sizes stay those of the paper, and words stay
    /// readable when mirrored. So a loom in real millimetres may be placed at 1:10 without its lines turning to hair.
    Group { name: String, title: Option<String>, place: Affine, items: Vec<Item> },
    /// A PNG picture fitted into a rectangle.
    Picture { at: Rect, png: std::sync::Arc<Vec<u8>>, describe: String },
}

/// A drawing.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// File-name word of it: "warping".
    pub name: String,
    /// What a reader calls it.
    pub title: String,
    /// One sentence for those who cannot see it.
    pub describe: String,
    pub width: f64,
    pub height: f64,
    /// Millimetres on the paper for one millimetre of the thing (1 full size, 0.1 for 1:10), or `None` for a diagram or
    /// chart. The DXF is drawn back to full size by it.
    pub scale: Option<f64>,
    pub items: Vec<Item>,
}

impl Sheet {
    /// An empty sheet of `width` by `height` millimetres.
    pub fn new(name: &str, title: &str, describe: &str, width: f64, height: f64) -> Self {
        let (name, title, describe) = (name.to_string(), title.to_string(), describe.to_string());
        Sheet { name, title, describe, width, height, scale: None, items: Vec::new() }
    }
}

/// The open path through `points`.
pub fn through(points: impl IntoIterator<Item = Point>) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.into_iter().enumerate() {
        if i == 0 { path.move_to(point) } else { path.line_to(point) }
    }
    path
}

/// Builders, on anything that holds items: a sheet, or the list of a group being made.
pub trait Draw {
    /// Where items go.
    fn items(&mut self) -> &mut Vec<Item>;

    /// A path drawn as `line`.
    fn path(&mut self, line: Line, path: impl Into<BezPath>) {
        self.items().push(Item::Path { path: path.into(), line: Some(line), fill: None });
    }
    /// An area filled, with its edge drawn where `line` is given.
    fn area(&mut self, fill: Fill, line: Option<Line>, path: impl Into<BezPath>) {
        self.items().push(Item::Path { path: path.into(), line, fill: Some(fill) });
    }
    /// A line from point to point, open.
    fn trace(&mut self, line: Line, points: impl IntoIterator<Item = Point>) {
        self.path(line, through(points));
    }
    /// An area with straight sides, closed.
    fn polygon(&mut self, fill: Fill, line: Option<Line>, points: impl IntoIterator<Item = Point>) {
        let mut path = through(points);
        path.close_path();
        self.area(fill, line, path);
    }
    /// A filled round spot.
    fn spot(&mut self, fill: Fill, centre: impl Into<Point>, radius: f64) {
        self.area(fill, None, kurbo::Circle::new(centre, radius).to_path(0.001));
    }
    /// A straight line.
    fn line(&mut self, line: Line, from: impl Into<Point>, to: impl Into<Point>) {
        let mut path = BezPath::new();
        path.move_to(from.into());
        path.line_to(to.into());
        self.path(line, path);
    }
    /// A rectangle's edge.
    fn rect(&mut self, line: Line, rect: Rect) {
        self.path(line, rect.to_path(0.01));
    }
    /// A circle's edge.
    fn circle(&mut self, line: Line, centre: impl Into<Point>, radius: f64) {
        self.path(line, kurbo::Circle::new(centre, radius).to_path(0.001));
    }
    /// One line of words.
    fn words(&mut self, kind: Type, anchor: Anchor, at: impl Into<Point>, text: impl Into<String>) {
        self.items().push(Item::Words { at: at.into(), text: text.into(), kind, anchor, turn: 0.0 });
    }
    /// One line of words turned by `turn` degrees clockwise.
    fn words_turned(&mut self, kind: Type, anchor: Anchor, at: impl Into<Point>, turn: f64, text: impl Into<String>) {
        self.items().push(Item::Words { at: at.into(), text: text.into(), kind, anchor, turn });
    }
    /// A group built by `fill`, placed by `place`, that says `title` on hover.
    fn group(&mut self, name: &str, title: Option<&str>, place: Affine, fill: impl FnOnce(&mut Vec<Item>)) {
        let mut items = Vec::new();
        fill(&mut items);
        self.items().push(Item::Group { name: name.to_string(), title: title.map(str::to_string), place, items });
    }
}

impl Draw for Vec<Item> {
    fn items(&mut self) -> &mut Vec<Item> {
        self
    }
}
impl Draw for Sheet {
    fn items(&mut self) -> &mut Vec<Item> {
        &mut self.items
    }
}
