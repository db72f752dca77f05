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
    /// Bounds of a doubt.
    Doubt,
    /// A thing that can hurt: nip, blade, live wire.
    Danger,
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
    /// A yarn's own colour.
    Rgb(u8, u8, u8),
}

/// How words are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Type {
    /// The sheet's name.
    Title,
    /// A part of the sheet.
    Heading,
    /// Words.
    Body,
    /// Small words and table cells.
    Small,
    /// Numbers on measure lines and axes.
    Figure,
    /// A caution.
    Caution,
}

impl Type {
    /// Height of the type in millimetres (em size).
    pub fn size(self) -> f64 {
        match self {
            Type::Title => 5.6,
            Type::Heading => 4.2,
            Type::Body => 3.4,
            Type::Small => 2.7,
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
    /// Things that belong together. `name` becomes the SVG group's id and the DXF block of layers; `title` is what hover,
    /// tap and a screen reader say of it. `place` maps the group's own millimetres to the sheet's.
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
    /// True scale, or `None` for a diagram or chart.
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
