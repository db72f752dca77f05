//! The cloth cut open, large and to scale: along an end and along a pick, each on its way over and under the threads it crosses,
//! with crimp height, weave angle, spacing and thickness. Takes the look of a cloth; its path is Peirce's.

use kurbo::{BezPath, Circle, Point, Shape};

use crate::draw::picture::{ClothLook, Path};
use crate::draw::sheet::{Anchor, Draw, Fill, Item, Line, Sheet, Type, through};
use crate::draw::title::{self, FOOT, MARGIN};
use crate::draw::{dimension, text};
use crate::units::show::{self, Style};
use crate::units::{DEG, Kind, Q};
use crate::weave::Interlacing;

/// What the sheet is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Cut<'a> {
    pub look: &'a ClothLook,
    /// Which state of the cloth it is: "off the loom, not washed".
    pub state: &'a str,
    pub style: Style,
}

/// Scales a section is drawn at.
const SCALES: [f64; 12] = [100.0, 80.0, 60.0, 50.0, 40.0, 30.0, 25.0, 20.0, 15.0, 10.0, 5.0, 2.0];
/// Threads crossed that are shown.
const SHOWN: usize = 5;

/// One of the two cuts.
struct Way<'a> {
    name: &'a str,
    /// The thread cut along, and those cut across.
    along: &'a str,
    across: &'a str,
    path: Path,
    /// Heights of the two yarns, and the crimp height of those cut across.
    thick: f64,
    other_thick: f64,
    other_wide: f64,
    other_height: f64,
    /// Whether the thread cut along lies over the `i`th it crosses.
    over: Vec<bool>,
    /// Mean share of the spaces in which the thread changes sides; in the others it floats straight.
    changes: f64,
    fill: (Fill, Fill),
}

/// The sheet.
pub fn sheet(cut: &Cut) -> Sheet {
    let look = cut.look;
    let describe = "Two cuts through the cloth, along the warp and along the weft, with their measures";
    let mut sheet = Sheet::new("section", "The cloth cut open", describe, 210.0, 100.0);
    let weave = Interlacing::of(&look.drawdown);
    let ways = [along_warp(look, &weave), along_weft(look, &weave)];
    let room = sheet.width - 2.0 * MARGIN - 44.0;
    let widest = ways.iter().map(|w| w.path.spacing).fold(0.0, f64::max) * SHOWN as f64;
    let scale = SCALES.into_iter().find(|s| s * widest <= room).unwrap_or(room / widest);
    sheet.scale = Some(scale);
    let top = title::head(&mut sheet, &lead(cut));
    let mut y = top;
    for way in &ways {
        y = draw_way(&mut sheet, cut, way, scale, y) + 4.0;
    }
    sheet.height = y + FOOT + MARGIN;
    title::foot(&mut sheet, cut.state);
    sheet
}

fn lead(cut: &Cut) -> String {
    let look = cut.look;
    let jammed = look.warp_path().jammed() || look.weft_path().jammed();
    let says =
        if jammed { " The threads have less room than this shape needs: they will press each other flat." } else { "" };
    format!(
        "{}: {} thick. Each yarn bends round those it crosses and runs straight between.{says}",
        capital(cut.state),
        length(look.thickness(), cut.style)
    )
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

fn length(mm: f64, style: Style) -> String {
    show::natural(mm / 1000.0, Kind::Length, style)
}

fn inks(look: &ClothLook) -> (Fill, Fill) {
    let rgb = |colour: usize| look.colours.get(colour).map_or(Fill::Yarn, |c| Fill::Rgb(c[0], c[1], c[2]));
    (rgb(look.warp_order.at(0)), rgb(look.weft_order.at(0)))
}

fn along_warp<'a>(look: &ClothLook, weave: &Interlacing) -> Way<'a> {
    let (warp, weft) = inks(look);
    Way {
        name: "Along the warp",
        along: "end",
        across: "picks",
        path: look.warp_path(),
        thick: look.warp.diameter * look.warp.flatten,
        other_thick: look.weft.diameter * look.weft.flatten,
        other_wide: look.weft.diameter,
        other_height: look.weft_height,
        over: (0..=SHOWN).map(|pick| look.drawdown.warp_up(0, pick)).collect(),
        changes: weave.warp_crossings / weave.picks as f64,
        fill: (warp, weft),
    }
}

fn along_weft<'a>(look: &ClothLook, weave: &Interlacing) -> Way<'a> {
    let (warp, weft) = inks(look);
    Way {
        name: "Along the weft",
        along: "pick",
        across: "ends",
        path: look.weft_path(),
        thick: look.weft.diameter * look.weft.flatten,
        other_thick: look.warp.diameter * look.warp.flatten,
        other_wide: look.warp.diameter,
        other_height: look.warp_height,
        over: (0..=SHOWN).map(|end| !look.drawdown.warp_up(end, 0)).collect(),
        changes: weave.weft_crossings / weave.ends as f64,
        fill: (weft, warp),
    }
}

/// One cut and its measures. Gives the y below.
fn draw_way(sheet: &mut Sheet, cut: &Cut, way: &Way, scale: f64, top: f64) -> f64 {
    sheet.words(Type::Heading, Anchor::Start, (MARGIN, text::base(Type::Heading, top)), way.name);
    let crossed = format!("one {} lengthwise, {} cut across", way.along, way.across);
    let at = (MARGIN + text::width(Type::Heading, way.name) + 4.0, text::base(Type::Heading, top));
    sheet.words(Type::Note, Anchor::Start, at, crossed);
    let reach = ((way.path.height + way.thick).max(way.other_height + way.other_thick)) / 2.0 * scale;
    let middle = top + 22.0 + reach;
    let left = MARGIN + 12.0 + way.path.spacing * scale * 0.25;
    let place = Place { left, middle, scale };
    sheet.group(way.along, Some(way.name), kurbo::Affine::IDENTITY, |g| yarns(g, way, &place));
    measures(sheet, cut, way, &place);
    // Floats run straight: only the spaces in which the thread changes sides take more yarn than they are long.
    let crimp = way.path.crimp() * way.changes;
    let words = format!(
        "crimp height {} from crest to trough of the middle line; crimp {} %: {} of yarn in {} of cloth",
        length(way.path.height, cut.style),
        show::number(crimp * 100.0),
        length(100.0 * (1.0 + crimp), cut.style),
        length(100.0, cut.style)
    );
    let below = middle + reach + 15.0;
    sheet.words(Type::Small, Anchor::Start, (MARGIN, below), words);
    below + 3.0
}

/// From the cut's millimetres to the paper's.
struct Place {
    left: f64,
    middle: f64,
    scale: f64,
}

impl Place {
    fn at(&self, x: f64, z: f64) -> Point {
        Point::new(self.left + x * self.scale, self.middle - z * self.scale)
    }
}

/// Height and slope of the middle line at `x` from the first thread crossed.
fn line_at(way: &Way, x: f64) -> (f64, f64) {
    let i = ((x / way.path.spacing).floor().max(0.0) as usize).min(SHOWN - 1);
    let (from, to) = (way.over[i], way.over[i + 1]);
    let sign = if from { 1.0 } else { -1.0 };
    if from == to {
        return (sign * way.path.height / 2.0, 0.0);
    }
    let (z, slope) = way.path.at((x - i as f64 * way.path.spacing).clamp(0.0, way.path.spacing));
    (sign * z, sign * slope)
}

fn yarns(g: &mut Vec<Item>, way: &Way, place: &Place) {
    let steps = 24 * SHOWN;
    let end = way.path.spacing * SHOWN as f64;
    let mut edges: [Vec<Point>; 2] = [Vec::new(), Vec::new()];
    let mut middle = Vec::new();
    for i in 0..=steps {
        let x = end * i as f64 / steps as f64;
        let (z, slope) = line_at(way, x);
        let long = (1.0 + slope * slope).sqrt();
        let half = way.thick / 2.0;
        edges[0].push(place.at(x - half * slope / long, z + half / long));
        edges[1].push(place.at(x + half * slope / long, z - half / long));
        middle.push(place.at(x, z));
    }
    let back = edges[1].iter().rev().copied();
    g.polygon(way.fill.0, None, edges[0].iter().copied().chain(back));
    edges.iter().for_each(|edge| g.trace(Line::Outline, edge.iter().copied()));
    for i in 0..=SHOWN {
        let z = if way.over[i] { -way.other_height / 2.0 } else { way.other_height / 2.0 };
        let centre = place.at(i as f64 * way.path.spacing, z);
        let radii = (way.other_wide / 2.0 * place.scale, way.other_thick / 2.0 * place.scale);
        let oval: BezPath = kurbo::Ellipse::new(centre, radii, 0.0).to_path(0.01);
        g.area(way.fill.1, Some(Line::Outline), oval.clone());
        dimension::hatch(g, &oval, 1.3, 45.0);
        g.area(Fill::Ink, None, Circle::new(centre, 0.35).to_path(0.01));
    }
    g.path(Line::Centre, through(middle));
}

fn measures(sheet: &mut Sheet, cut: &Cut, way: &Way, place: &Place) {
    let top = ((way.path.height + way.thick).max(way.other_height + way.other_thick)) / 2.0;
    let p = way.path.spacing;
    let spacing = format!("{} apart", length(p, cut.style));
    let high = place.at(0.0, top).y - 6.0;
    let centre =
        |i: usize| place.at(i as f64 * p, if way.over[i] { -way.other_height / 2.0 } else { way.other_height / 2.0 });
    dimension::horizontal(sheet, centre(0), centre(1), high, &spacing);
    // Crest to trough of the middle line, where it first changes sides.
    let change = (0..SHOWN).find(|&i| way.over[i] != way.over[i + 1]);
    let far = place.at(p * SHOWN as f64, 0.0).x;
    if let Some(i) = change {
        let (a, b) = (line_at(way, i as f64 * p).0, line_at(way, (i + 1) as f64 * p).0);
        let words = length(way.path.height, cut.style);
        let (crest, trough) = if a > b { (i, i + 1) } else { (i + 1, i) };
        let (up, low) = (place.at(crest as f64 * p, a.max(b)), place.at(trough as f64 * p, a.min(b)));
        let last = place.at(SHOWN as f64 * p, 0.0).x;
        dimension::vertical(sheet, up, low, last + 9.0, &words);
        angle(sheet, way, place, i);
    }
    let whole = format!("{} thick", length(2.0 * top, cut.style));
    dimension::vertical(sheet, place.at(SHOWN as f64 * p, top), place.at(SHOWN as f64 * p, -top), far + 21.0, &whole);
    let target = place.at(p * 2.0, if way.over[2] { -way.other_height / 2.0 } else { way.other_height / 2.0 });
    let elbow = Point::new(target.x + 6.0, place.at(0.0, -top).y + 6.5);
    dimension::leader(sheet, target, elbow, &[&format!("{} through", length(way.other_wide, cut.style))]);
}

/// The weave angle where the thread passes the middle of the cloth.
fn angle(sheet: &mut Sheet, way: &Way, place: &Place, i: usize) {
    let at = place.at((i as f64 + 0.5) * way.path.spacing, 0.0);
    let falls = way.over[i];
    let degrees = show::of(Q::si(way.path.angle), &DEG, Style::Metric);
    let turn = way.path.angle.to_degrees();
    let long = way.path.spacing * place.scale * 0.62;
    let direction = crate::draw::extent::direction(if falls { turn } else { -turn });
    sheet.line(Line::Dimension, at - direction * long * 0.3, at + direction * long);
    sheet.line(Line::Dimension, at, at + kurbo::Vec2::new(long, 0.0));
    let (start, end) = if falls { (0.0, turn) } else { (-turn, 0.0) };
    dimension::angle(sheet, at, start, end, long * 0.92, &degrees);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::draw::picture::{Hand, YarnLook};
    use crate::weave::{ColourOrder, Weave};

    pub fn look(weave: &str) -> ClothLook {
        let (fine, thick) = (YarnLook::cotton(0.2, 700.0, Hand::Z), YarnLook::cotton(0.3, 500.0, Hand::S));
        ClothLook {
            warp: fine,
            weft: thick,
            end_spacing: 0.6,
            pick_spacing: 0.8,
            warp_height: 0.3,
            weft_height: 0.2,
            drawdown: Weave::parse(weave).unwrap().repeat(),
            colours: vec![crate::weave::colour::NATURAL],
            warp_order: ColourOrder::plain(0),
            weft_order: ColourOrder::plain(0),
            straying: 0.0,
            seed: 1,
        }
    }

    #[test]
    fn it_fits_its_paper_at_a_round_scale_and_says_its_measures() {
        for weave in ["plain", "twill 2/2", "satin 5/2"] {
            let look = look(weave);
            let sheet = sheet(&Cut { look: &look, state: "off the loom", style: Style::Metric });
            let e = extent::of(&sheet.items).unwrap();
            assert!(e.x0 > 5.0 && e.x1 < sheet.width - 3.0 && e.y1 < sheet.height - 5.0, "{weave} {e:?}");
            assert!(SCALES.contains(&sheet.scale.unwrap()));
            let mut words = String::new();
            extent::walk(&sheet.items, &mut |seen| {
                if let extent::Seen::Words { text, .. } = seen {
                    words.push_str(text);
                    words.push('\n');
                }
            });
            for says in ["0.5 mm thick", "crimp height", "apart", "through"] {
                assert!(words.contains(says), "{weave} {says}: {words}");
            }
        }
    }

    /// A 2/2 twill changes sides half as often as plain, so half the crimp of the same path.
    #[test]
    fn floats_take_no_more_yarn_than_they_are_long() {
        let of = |weave: &str| {
            let look = look(weave);
            along_warp(&look, &Interlacing::of(&look.drawdown)).changes
        };
        assert_eq!((of("plain"), of("twill 2/2"), of("satin 5/2"), of("rib 2/2")), (1.0, 0.5, 0.4, 0.5));
    }

    /// In Peirce's cloth each yarn touches the one it crosses: the distance of the middles is half the sum of the diameters.
    #[test]
    fn crossing_yarns_touch() {
        let look = look("plain");
        let weave = Interlacing::of(&look.drawdown);
        for way in [along_warp(&look, &weave), along_weft(&look, &weave)] {
            let (z, _) = line_at(&way, 0.0);
            let other = if way.over[0] { -way.other_height / 2.0 } else { way.other_height / 2.0 };
            assert!(((z - other).abs() - (way.thick + way.other_thick) / 2.0).abs() < 1e-12);
        }
    }
}
