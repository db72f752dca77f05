//! SVG artwork: looked over before it is understood, then painted. Scripts, other files, entities and shapes that multiply are refused by
//! counting, since nothing here may look at a clock.

use super::{Edges, Fault, Picture};
use resvg::tiny_skia;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};
use usvg::roxmltree::{Document, Node, ParsingOptions};

/// Longest text of an SVG, bytes.
const LONGEST: usize = 8 << 20;
/// Most elements, everything that is used again counted again.
const MOST_ELEMENTS: u64 = 200_000;
/// Deepest nesting, through uses as well.
const DEEPEST: usize = 64;
/// Most letters.
const MOST_LETTERS: usize = 20_000;
/// Most dashes along dashed lines.
const MOST_DASHES: f64 = 200_000.0;
/// Most layers with filters.
const MOST_FILTERS: usize = 24;
/// How often a picture may be painted over as a whole.
const MOST_COATS: f64 = 300.0;
/// Most pixels of a PNG inside an SVG.
const MOST_INNER: u64 = 16_000_000;

/// Reads an SVG, to be painted with such edges.
pub fn read(bytes: &[u8], edges: Edges) -> Result<usvg::Tree, Fault> {
    let text = std::str::from_utf8(bytes).ok().filter(|text| !text.trim().is_empty());
    let Some(text) = text else { return Err(Fault("the picture is neither a PNG nor the text of an SVG".into())) };
    if text.len() > LONGEST {
        return Err(Fault(format!("the SVG has {} MB of text; at most {} are read", text.len() >> 20, LONGEST >> 20)));
    }
    if text.contains("<!ENTITY") {
        return refused("entities, which can grow without end");
    }
    if text.contains("<?xml-stylesheet") {
        return refused("a style sheet in another file");
    }
    let options =
        ParsingOptions { allow_dtd: true, nodes_limit: 2 * MOST_ELEMENTS as u32, ..ParsingOptions::default() };
    let document =
        Document::parse_with_options(text, options).map_err(|why| Fault(format!("the SVG cannot be read: {why}")))?;
    if document.root_element().tag_name().name() != "svg" {
        return Err(Fault("the file is no PNG, and its text is no svg".into()));
    }
    let letters = look_over(&document)?;
    let tree = usvg::Tree::from_xmltree(&document, &options_for_a_stranger(edges, letters > 0))
        .map_err(|why| Fault(format!("the SVG cannot be understood: {why}")))?;
    let mut work = Work::default();
    work.group(tree.root());
    work.bounded()?;
    Ok(tree)
}

fn refused<T>(what: &str) -> Result<T, Fault> {
    Err(Fault(format!("the SVG has {what}; draw it with plain shapes")))
}

/// What an element may never be.
const FORBIDDEN: &[(&str, &str)] = &[
    ("script", "a script"),
    ("foreignObject", "a web page inside"),
    ("iframe", "a web page inside"),
    ("feImage", "a picture as a filter"),
    ("feTurbulence", "made-up noise"),
    ("feConvolveMatrix", "a matrix filter"),
    ("feMorphology", "a growing filter"),
    ("feDisplacementMap", "a displacing filter"),
    ("feDiffuseLighting", "a lighting filter"),
    ("feSpecularLighting", "a lighting filter"),
];

/// Everything that can be said of the text alone; how many letters are to be drawn.
fn look_over(document: &Document) -> Result<usize, Fault> {
    let mut letters = 0;
    for node in document.descendants() {
        if node.is_text() {
            let within = node.parent_element().map(|parent| parent.tag_name().name());
            match within {
                Some("style") => style(node.text().unwrap_or_default())?,
                Some("text" | "tspan" | "textPath" | "tref") => {
                    letters += node.text().map_or(0, |text| text.chars().count())
                }
                _ => {}
            }
        }
        if node.is_element() {
            element(&node)?;
        }
    }
    if letters > MOST_LETTERS {
        return Err(Fault(format!("the SVG has {letters} letters; at most {MOST_LETTERS} are drawn")));
    }
    root_size(&document.root_element())?;
    Size::of(document)?;
    Ok(letters)
}

fn element(node: &Node) -> Result<(), Fault> {
    let name = node.tag_name().name();
    if let Some((_, what)) = FORBIDDEN.iter().find(|(forbidden, _)| *forbidden == name) {
        return refused(what);
    }
    for attribute in node.attributes() {
        let (key, value) = (attribute.name(), attribute.value().trim());
        if key.len() > 2 && key[..2].eq_ignore_ascii_case("on") && key.chars().all(|c| c.is_ascii_alphabetic()) {
            return refused("a script that waits for an event");
        }
        if key == "href" && name != "a" {
            let inner = value.starts_with('#') || value.is_empty();
            let picture = name == "image" && value.starts_with("data:image/png");
            if !inner && !picture {
                let shown: String = value.chars().take(40).collect();
                return refused(&format!("a reference to something outside itself (`{shown}`)"));
            }
        }
        style(value)?;
    }
    Ok(())
}

/// Words of a style name nothing outside the picture.
fn style(text: &str) -> Result<(), Fault> {
    if text.contains("@import") {
        return refused("a style sheet in another file");
    }
    for (at, _) in text.match_indices("url(") {
        let target = text[at + 4..].trim_start_matches([' ', '"', '\'']);
        if !target.starts_with('#') {
            return refused("a style that names another file");
        }
    }
    Ok(())
}

/// A size that is stated must be one.
fn root_size(root: &Node) -> Result<(), Fault> {
    for key in ["width", "height"] {
        let Some(value) = root.attribute(key) else { continue };
        let number: String = value.trim().trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == '%').into();
        let sound = number.trim().parse::<f64>().is_ok_and(|n| n.is_finite() && n > 0.0 && n < 1e6);
        if !sound {
            let shown: String = value.chars().take(30).collect();
            return Err(Fault(format!("the SVG's {key} is `{shown}`, which is no size")));
        }
    }
    Ok(())
}

/// How many elements there are once everything used again is put in its place.
struct Size<'a, 'd> {
    by_id: BTreeMap<&'a str, Node<'a, 'd>>,
    known: BTreeMap<usize, u64>,
    /// Sizes that style sheets lay on every element.
    by_sheet: Vec<&'a str>,
}

impl<'a, 'd> Size<'a, 'd> {
    fn of(document: &'a Document<'d>) -> Result<(), Fault> {
        let mut depth: BTreeMap<usize, usize> = BTreeMap::new();
        let mut size = Size { by_id: BTreeMap::new(), known: BTreeMap::new(), by_sheet: Vec::new() };
        let mut points = 0usize;
        let mut marker = false;
        for node in document.descendants().filter(Node::is_element) {
            let own = node.parent().and_then(|parent| depth.get(&parent.id().get_usize())).map_or(0, |above| above + 1);
            if own > DEEPEST {
                return refused("elements nested deeper than any drawing needs");
            }
            depth.insert(node.id().get_usize(), own);
            if let Some(id) = node.attribute("id") {
                size.by_id.insert(id, node);
            }
            marker |= node.tag_name().name() == "marker";
            points += node.attribute("d").or(node.attribute("points")).map_or(0, |data| data.len() / 2);
            if node.tag_name().name() == "style" {
                size.by_sheet.extend(node.text().map(targets).unwrap_or_default());
            }
        }
        let mut all = size.node(document.root_element(), 0)?;
        if marker {
            // a marker stands on every corner of a line that asks for it
            let biggest =
                document.descendants().filter(|n| n.has_tag_name("marker") || n.tag_name().name() == "marker");
            let biggest = biggest.map(|n| n.descendants().count() as u64).max().unwrap_or(0);
            all = all.saturating_add(biggest.saturating_mul(points as u64));
        }
        if all > MOST_ELEMENTS {
            return refused(&format!("more than {MOST_ELEMENTS} shapes, those used again counted again"));
        }
        Ok(())
    }

    fn node(&mut self, node: Node<'a, 'd>, depth: usize) -> Result<u64, Fault> {
        if let Some(known) = self.known.get(&node.id().get_usize()) {
            return Ok(*known);
        }
        if depth > 2 * DEEPEST {
            return refused("shapes that use each other deeper than any drawing needs");
        }
        // what is being counted counts nothing for those that use it again: such a circle is never drawn
        self.known.insert(node.id().get_usize(), 0);
        let mut sum = 1u64;
        for child in node.children().filter(Node::is_element) {
            sum = sum.saturating_add(self.node(child, depth + 1)?);
        }
        let mut used: Vec<&str> = self.by_sheet.clone();
        for attribute in node.attributes() {
            match attribute.name() {
                "href" => used.extend(attribute.value().trim().strip_prefix('#')),
                _ => used.extend(targets(attribute.value())),
            }
        }
        for id in used {
            if let Some(target) = self.by_id.get(id).copied() {
                sum = sum.saturating_add(self.node(target, depth + 1)?);
            }
        }
        self.known.insert(node.id().get_usize(), sum);
        Ok(sum)
    }
}

/// Ids named by `url(#id)`.
fn targets(text: &str) -> Vec<&str> {
    let named = |(at, _): (usize, &str)| {
        let rest = text[at + 4..].trim_start_matches([' ', '"', '\'']).strip_prefix('#')?;
        rest.split([')', '"', '\'', ' ']).next()
    };
    text.match_indices("url(").filter_map(named).collect()
}

/// Options under which nothing outside the text is opened: no files, no fonts of the system, pictures only as PNG within it. Where there are
/// no letters, the fonts are not read either.
fn options_for_a_stranger(edges: Edges, letters: bool) -> usvg::Options<'static> {
    static FONTS: OnceLock<Arc<usvg::fontdb::Database>> = OnceLock::new();
    let load = || {
        let mut fonts = usvg::fontdb::Database::new();
        for face in
            [dejavu::sans_condensed::regular(), dejavu::sans_condensed::bold(), dejavu::serif_condensed::regular()]
        {
            fonts.load_font_source(usvg::fontdb::Source::Binary(Arc::new(face)));
        }
        Arc::new(fonts)
    };
    usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|mime, data, _| {
                (mime == "image/png" && small(&data)).then_some(usvg::ImageKind::PNG(data))
            }),
            resolve_string: Box::new(|_, _| None),
        },
        fontdb: if letters { FONTS.get_or_init(load).clone() } else { Arc::default() },
        font_family: "DejaVu Sans".to_string(),
        shape_rendering: match edges {
            Edges::Smooth => usvg::ShapeRendering::GeometricPrecision,
            Edges::Hard => usvg::ShapeRendering::CrispEdges,
        },
        ..usvg::Options::default()
    }
}

fn small(data: &[u8]) -> bool {
    let side = |at: usize| data.get(at..at + 4).and_then(|b| b.try_into().ok()).map(u32::from_be_bytes);
    matches!((side(16), side(20)), (Some(w), Some(h)) if u64::from(w) * u64::from(h) <= MOST_INNER)
}

/// What painting takes, in the drawing's own units.
#[derive(Default)]
struct Work {
    dashes: f64,
    filters: usize,
    shapes: u64,
}

impl Work {
    fn group(&mut self, group: &usvg::Group) {
        self.filters += usize::from(!group.filters().is_empty());
        for node in group.children() {
            self.shapes += 1;
            if self.shapes > 4 * MOST_ELEMENTS {
                return;
            }
            match node {
                usvg::Node::Group(inner) => self.group(inner),
                usvg::Node::Path(path) => self.path(path),
                _ => {}
            }
            node.subroots(|inner| self.group(inner));
        }
    }

    fn path(&mut self, path: &usvg::Path) {
        let Some(dashes) = path.stroke().and_then(|stroke| stroke.dasharray()) else { return };
        let period = f64::from(dashes.iter().sum::<f32>()) / dashes.len().max(1) as f64;
        let mut last = tiny_skia::Point::zero();
        let mut long = 0.0f64;
        for segment in path.data().segments() {
            use tiny_skia::PathSegment::*;
            let points: &[tiny_skia::Point] = match &segment {
                MoveTo(p) => {
                    last = *p;
                    continue;
                }
                LineTo(a) => &[*a],
                QuadTo(a, b) => &[*a, *b],
                CubicTo(a, b, c) => &[*a, *b, *c],
                Close => continue,
            };
            for point in points {
                long += f64::from((*point - last).length());
                last = *point;
            }
        }
        self.dashes += if period > 0.0 { long / period } else { f64::INFINITY };
    }

    fn bounded(&self) -> Result<(), Fault> {
        if self.shapes > 4 * MOST_ELEMENTS {
            return refused(&format!("more than {MOST_ELEMENTS} shapes, those used again counted again"));
        }
        if self.dashes.is_nan() || self.dashes > MOST_DASHES {
            return refused("lines of more dashes than can be printed");
        }
        if self.filters > MOST_FILTERS {
            return refused(&format!("more than {MOST_FILTERS} blurs and shadows"));
        }
        Ok(())
    }
}

/// Pixels that painting a group touches, in whole pictures.
fn coats(group: &usvg::Group, canvas: tiny_skia::Rect, of: f64) -> f64 {
    let share = |bounds: tiny_skia::Rect| {
        let clipped = bounds.intersect(&canvas);
        clipped.map_or(0.0, |b| f64::from(b.width()) * f64::from(b.height()) / of)
    };
    let mut sum = 0.0;
    for node in group.children() {
        sum += match node {
            usvg::Node::Group(inner) => {
                let layer =
                    if inner.should_isolate() { 3.0 * share(inner.abs_layer_bounding_box().to_rect()) } else { 0.0 };
                let filtered = if inner.filters().is_empty() { 0.0 } else { 8.0 };
                layer + filtered + coats(inner, canvas, of)
            }
            usvg::Node::Path(path) => {
                let plain = |paint: &usvg::Paint| matches!(paint, usvg::Paint::Color(_));
                let fancy =
                    path.fill().is_some_and(|f| !plain(f.paint())) || path.stroke().is_some_and(|s| !plain(s.paint()));
                share(path.abs_stroke_bounding_box()) * if fancy { 4.0 } else { 1.0 } + 1e-4
            }
            other => 2.0 * share(other.abs_stroke_bounding_box()),
        };
        let mut inner = 0.0;
        node.subroots(|group| inner += coats(group, canvas, of));
        sum += inner;
    }
    sum
}

/// Paints a drawing, stretched to the pixels asked for.
pub fn paint(tree: &usvg::Tree, width: usize, height: usize) -> Result<Picture, Fault> {
    let size = tree.size();
    let canvas = tiny_skia::Rect::from_xywh(0.0, 0.0, size.width(), size.height());
    let canvas = canvas.ok_or_else(|| Fault("the SVG has no size".into()))?;
    let all = coats(tree.root(), canvas, f64::from(size.width()) * f64::from(size.height()));
    if all.is_nan() || all > MOST_COATS {
        return refused("shapes that paint the picture over hundreds of times");
    }
    let none = || Fault(format!("a picture of {width} by {height} pixels"));
    let mut map = tiny_skia::Pixmap::new(width as u32, height as u32).ok_or_else(none)?;
    let scale = tiny_skia::Transform::from_scale(width as f32 / size.width(), height as f32 / size.height());
    resvg::render(tree, scale, &mut map.as_mut());
    let mut rgba = map.take();
    for pixel in rgba.chunks_exact_mut(4) {
        let solid = u32::from(pixel[3]);
        if solid > 0 && solid < 255 {
            (0..3).for_each(|i| pixel[i] = ((u32::from(pixel[i]) * 255 + solid / 2) / solid).min(255) as u8);
        }
    }
    Ok(Picture { width, height, rgba })
}
