//! Sheets as DXF for what a laser, a router or a drawing program reads: release 2000 as text, millimetres, full size whatever
//! the sheet's scale, y up, a layer for each kind of line, curves as plain polylines within [`TOLERANCE`]. Only lines and
//! words go in: fills and pictures have no meaning to a cutter. No date, no random handle: same sheet, same bytes.

use std::collections::BTreeSet;
use std::fmt::Write;

use kurbo::{Affine, BezPath, PathEl, Point};

use crate::draw::extent::{Seen, walk};
use crate::draw::refused::{MOST_ELEMENTS, Refused, check};
use crate::draw::sheet::{Anchor, Line, Sheet, Type};
use crate::draw::style::stroke;
use crate::draw::svg::number;
use crate::draw::text::CAPITAL;

/// Farthest that a polyline strays from its curve, in millimetres of the thing: half the kerf doubt of a hobby laser.
pub const TOLERANCE: f64 = 0.02;

/// The layer of words.
const WORDS: &str = "WORDS";

/// Names of the line patterns: unbroken, dashed, chain.
const PATTERNS: [(&str, &[f64]); 3] =
    [("CONTINUOUS", &[]), ("DASHED", &[4.0, -2.0]), ("CHAIN", &[8.0, -1.5, 1.0, -1.5])];

/// A file being written: group codes and values, handles counted up.
struct Dxf {
    text: String,
    next: u32,
}

impl Dxf {
    fn put(&mut self, code: i32, value: impl std::fmt::Display) {
        let _ = write!(self.text, "{code}\n{value}\n");
    }
    /// A new handle.
    fn handle(&mut self) -> String {
        self.next += 1;
        format!("{:X}", self.next)
    }
    /// `0 kind`, `5 handle`, owner and class markers.
    fn object(&mut self, kind: &str, owner: &str, classes: &[&str]) -> String {
        let handle = self.handle();
        self.put(0, kind);
        self.put(if kind == "DIMSTYLE" { 105 } else { 5 }, &handle);
        self.put(330, owner);
        for class in classes {
            self.put(100, class);
        }
        handle
    }
}

/// Handles that other parts of the file name.
struct Spaces {
    model: String,
    paper: String,
}

/// The sheet as a DXF file.
///
/// # Errors
/// What [`check`] refuses; a scale that is not above zero; more corners than [`MOST_ELEMENTS`].
pub fn bytes(sheet: &Sheet) -> Result<Vec<u8>, Refused> {
    check(sheet)?;
    let scale = sheet.scale.unwrap_or(1.0);
    if !(1e-4..=1e4).contains(&scale) {
        return Err(Refused::Setting { what: "the scale", given: scale, accepted: "0.0001 to 10000" });
    }
    let full = Affine::new([1.0 / scale, 0.0, 0.0, -1.0 / scale, 0.0, sheet.height / scale]);
    let mut file = Dxf { text: String::new(), next: 0x20 };
    let mut used = BTreeSet::new();
    let mut entities = Vec::new();
    collect(sheet, full, &mut entities, &mut used)?;
    header(&mut file, sheet, scale);
    let spaces = tables(&mut file, &used);
    blocks(&mut file, &spaces);
    section(&mut file, "ENTITIES", |file| {
        for entity in &entities {
            entity.write(file, &spaces.model, scale);
        }
    });
    objects(&mut file);
    file.put(0, "EOF");
    Ok(file.text.into_bytes())
}

/// What goes into the file.
enum Entity<'a> {
    Polyline { line: Line, corners: Vec<Point>, closed: bool },
    Words { at: Point, text: &'a str, kind: Type, anchor: Anchor, turn: f64 },
}

fn collect<'a>(
    sheet: &'a Sheet,
    full: Affine,
    entities: &mut Vec<Entity<'a>>,
    used: &mut BTreeSet<Line>,
) -> Result<(), Refused> {
    let mut corners = 0;
    walk(&sheet.items, &mut |seen| match seen {
        Seen::Path { path, line: Some(line), .. } if corners <= MOST_ELEMENTS => {
            for (points, closed) in polylines(&(full * path)) {
                corners += points.len();
                used.insert(line);
                entities.push(Entity::Polyline { line, corners: points, closed });
            }
        }
        Seen::Words { at, text, kind, anchor, turn } => {
            entities.push(Entity::Words { at: full * at, text, kind, anchor, turn });
        }
        _ => {}
    });
    if corners > MOST_ELEMENTS { Err(Refused::Elements(corners)) } else { Ok(()) }
}

/// The parts of a path as corners, and whether each closes. A part of one point is left out.
fn polylines(path: &BezPath) -> Vec<(Vec<Point>, bool)> {
    let mut parts: Vec<(Vec<Point>, bool)> = Vec::new();
    kurbo::flatten(path.iter(), TOLERANCE, |element| match element {
        PathEl::MoveTo(p) => parts.push((vec![p], false)),
        PathEl::ClosePath => {
            if let Some((points, closed)) = parts.last_mut() {
                *closed = true;
                let start = points[0];
                if points.len() > 2 && points.last().is_some_and(|p| p.distance(start) < 1e-9) {
                    points.pop();
                }
                // What follows a closed part without a move starts where that part started.
                parts.push((vec![start], false));
            }
        }
        PathEl::LineTo(p) => {
            if let Some((points, _)) = parts.last_mut() {
                points.push(p);
            }
        }
        _ => {}
    });
    parts.retain(|(points, _)| points.len() > 1);
    parts
}

impl Entity<'_> {
    fn write(&self, file: &mut Dxf, model: &str, scale: f64) {
        match self {
            Entity::Polyline { line, corners, closed } => {
                file.object("LWPOLYLINE", model, &["AcDbEntity"]);
                file.put(8, stroke(*line).layer);
                file.put(100, "AcDbPolyline");
                file.put(90, corners.len());
                file.put(70, i32::from(*closed));
                for corner in corners {
                    file.put(10, number(corner.x));
                    file.put(20, number(corner.y));
                }
            }
            Entity::Words { at, text, kind, anchor, turn } => {
                file.object("TEXT", model, &["AcDbEntity"]);
                file.put(8, WORDS);
                file.put(100, "AcDbText");
                let align = match anchor {
                    Anchor::Start => 0,
                    Anchor::Middle => 1,
                    Anchor::End => 2,
                };
                let point = |file: &mut Dxf, code: i32| {
                    file.put(code, number(at.x));
                    file.put(code + 10, number(at.y));
                    file.put(code + 20, 0);
                };
                point(file, 10);
                file.put(40, number(kind.size() * CAPITAL / scale));
                file.put(1, plain(text));
                if *turn != 0.0 {
                    file.put(50, number(-turn));
                }
                file.put(72, align);
                if align != 0 {
                    point(file, 11);
                }
                file.put(100, "AcDbText");
            }
        }
    }
}

/// Words in ASCII: other letters as `\U+XXXX`, control characters as spaces, and the characters by which DXF text is
/// formatted written so that they stand for themselves.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '%' => out += "\\U+0025",
            '\\' => out += "\\U+005C",
            '^' => out += "\\U+005E",
            ' '..='~' => out.push(c),
            c if c.is_control() => out.push(' '),
            c => {
                let mut units = [0; 2];
                for unit in c.encode_utf16(&mut units) {
                    let _ = write!(out, "\\U+{unit:04X}");
                }
            }
        }
    }
    out
}

fn section(file: &mut Dxf, name: &str, fill: impl FnOnce(&mut Dxf)) {
    file.put(0, "SECTION");
    file.put(2, name);
    fill(file);
    file.put(0, "ENDSEC");
}

fn header(file: &mut Dxf, sheet: &Sheet, scale: f64) {
    section(file, "HEADER", |file| {
        let mut set = |name: &str, pairs: &[(i32, String)]| {
            file.put(9, name);
            for (code, value) in pairs {
                file.put(*code, value);
            }
        };
        set("$ACADVER", &[(1, "AC1015".into())]);
        set("$DWGCODEPAGE", &[(3, "ANSI_1252".into())]);
        set("$INSBASE", &[(10, "0".into()), (20, "0".into()), (30, "0".into())]);
        set("$EXTMIN", &[(10, "0".into()), (20, "0".into()), (30, "0".into())]);
        let (w, h) = (number(sheet.width / scale), number(sheet.height / scale));
        set("$EXTMAX", &[(10, w), (20, h), (30, "0".into())]);
        set("$LTSCALE", &[(40, "1".into())]);
        // 4 is millimetres, 1 is metric.
        set("$INSUNITS", &[(70, "4".into())]);
        set("$MEASUREMENT", &[(70, "1".into())]);
        set("$HANDSEED", &[(5, "FFFFFF".into())]);
    });
}

/// One table of records.
fn table(file: &mut Dxf, name: &str, count: usize, fill: impl FnOnce(&mut Dxf, &str)) {
    file.put(0, "TABLE");
    file.put(2, name);
    let handle = file.handle();
    file.put(5, &handle);
    file.put(330, 0);
    file.put(100, "AcDbSymbolTable");
    file.put(70, count);
    if name == "DIMSTYLE" {
        file.put(100, "AcDbDimStyleTable");
    }
    fill(file, &handle);
    file.put(0, "ENDTAB");
}

/// A record without more than its name and flags.
fn record(file: &mut Dxf, kind: &str, class: &str, owner: &str, name: &str) -> String {
    let handle = file.object(kind, owner, &["AcDbSymbolTableRecord", class]);
    file.put(2, name);
    file.put(70, 0);
    handle
}

fn tables(file: &mut Dxf, used: &BTreeSet<Line>) -> Spaces {
    let mut spaces = Spaces { model: String::new(), paper: String::new() };
    section(file, "TABLES", |file| {
        table(file, "VPORT", 0, |_, _| {});
        table(file, "LTYPE", PATTERNS.len() + 2, patterns);
        table(file, "LAYER", used.len() + 2, |file, owner| layers(file, owner, used));
        table(file, "STYLE", 1, |file, owner| {
            record(file, "STYLE", "AcDbTextStyleTableRecord", owner, "STANDARD");
            for (code, value) in [(40, "0"), (41, "0.87"), (50, "0"), (71, "0"), (42, "2.5"), (3, "txt"), (4, "")] {
                file.put(code, value);
            }
        });
        table(file, "VIEW", 0, |_, _| {});
        table(file, "UCS", 0, |_, _| {});
        table(file, "APPID", 1, |file, owner| {
            record(file, "APPID", "AcDbRegAppTableRecord", owner, "ACAD");
        });
        table(file, "DIMSTYLE", 1, |file, owner| {
            record(file, "DIMSTYLE", "AcDbDimStyleTableRecord", owner, "STANDARD");
        });
        table(file, "BLOCK_RECORD", 2, |file, owner| {
            let mut space = |name: &str| {
                let handle = file.object("BLOCK_RECORD", owner, &["AcDbSymbolTableRecord", "AcDbBlockTableRecord"]);
                file.put(2, name);
                handle
            };
            spaces = Spaces { model: space("*Model_Space"), paper: space("*Paper_Space") };
        });
    });
    spaces
}

fn patterns(file: &mut Dxf, owner: &str) {
    let unbroken: &[f64] = &[];
    for (name, dashes) in [("BYBLOCK", unbroken), ("BYLAYER", unbroken)].into_iter().chain(PATTERNS) {
        record(file, "LTYPE", "AcDbLinetypeTableRecord", owner, name);
        file.put(3, "");
        file.put(72, 65);
        file.put(73, dashes.len());
        file.put(40, number(dashes.iter().map(|d| d.abs()).sum()));
        for dash in dashes {
            file.put(49, number(*dash));
            file.put(74, 0);
        }
    }
}

fn layers(file: &mut Dxf, owner: &str, used: &BTreeSet<Line>) {
    let own = used.iter().map(|line| {
        let look = stroke(*line);
        let pattern = match look.dash.len() {
            0 => 0,
            2 => 1,
            _ => 2,
        };
        (look.layer, look.number, PATTERNS[pattern].0, (look.weight * 100.0).round() as i32)
    });
    for (name, colour, pattern, weight) in
        [("0", 7, "CONTINUOUS", 25), (WORDS, 7, "CONTINUOUS", 18)].into_iter().chain(own)
    {
        record(file, "LAYER", "AcDbLayerTableRecord", owner, name);
        file.put(62, colour);
        file.put(6, pattern);
        file.put(370, allowed_weight(weight));
        file.put(390, "F");
    }
}

/// The nearest of the line weights that the format knows, in hundredths of a millimetre.
fn allowed_weight(wanted: i32) -> i32 {
    const KNOWN: [i32; 24] =
        [0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211];
    KNOWN.into_iter().min_by_key(|w| (w - wanted).abs()).unwrap_or(25)
}

fn blocks(file: &mut Dxf, spaces: &Spaces) {
    section(file, "BLOCKS", |file| {
        for (owner, name) in [(&spaces.model, "*Model_Space"), (&spaces.paper, "*Paper_Space")] {
            file.object("BLOCK", owner, &["AcDbEntity"]);
            file.put(8, 0);
            file.put(100, "AcDbBlockBegin");
            file.put(2, name);
            file.put(70, 0);
            for code in [10, 20, 30] {
                file.put(code, 0);
            }
            file.put(3, name);
            file.put(1, "");
            file.object("ENDBLK", owner, &["AcDbEntity"]);
            file.put(8, 0);
            file.put(100, "AcDbBlockEnd");
        }
    });
}

/// The dictionaries that readers of this release look for: the root, its groups, and the plot style (`F`) layers name.
fn objects(file: &mut Dxf) {
    section(file, "OBJECTS", |file| {
        let dictionary = |file: &mut Dxf, handle: &str, owner: &str, entries: &[(&str, &str)]| {
            file.put(0, "DICTIONARY");
            file.put(5, handle);
            file.put(330, owner);
            file.put(100, "AcDbDictionary");
            file.put(281, 1);
            for (name, value) in entries {
                file.put(3, name);
                file.put(350, value);
            }
        };
        dictionary(file, "C", "0", &[("ACAD_GROUP", "D"), ("ACAD_PLOTSTYLENAME", "E")]);
        dictionary(file, "D", "C", &[]);
        file.put(0, "ACDBDICTIONARYWDFLT");
        for (code, value) in [(5, "E"), (330, "C"), (100, "AcDbDictionary"), (281, "1"), (3, "Normal"), (350, "F")] {
            file.put(code, value);
        }
        file.put(100, "AcDbDictionaryWithDefault");
        file.put(340, "F");
        file.put(0, "ACDBPLACEHOLDER");
        file.put(5, "F");
        file.put(330, "E");
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sheet::Draw;
    use ::dxf::Drawing;
    use ::dxf::entities::EntityType;

    fn sheet() -> Sheet {
        let mut sheet = Sheet::new("d", "D", "", 200.0, 100.0);
        sheet.scale = Some(0.5);
        sheet.group("piece", None, Affine::translate((50.0, 50.0)), |g| {
            g.circle(Line::Cut, (0.0, 0.0), 20.0);
            g.line(Line::Seam, (-10.0, 0.0), (10.0, 5.0));
        });
        sheet.words(Type::Body, Anchor::Middle, (100.0, 90.0), "50 % größer ½ \\P ↔ 😀");
        sheet
    }

    fn read(bytes: &[u8]) -> Drawing {
        Drawing::load(&mut std::io::Cursor::new(bytes)).expect("another reader reads it")
    }

    /// Other program: the crate `dxf` reads it back, full size, y up, on its layers, in millimetres.
    #[test]
    fn another_reader_reads_the_same_shapes() {
        let bytes = bytes(&sheet()).expect("written");
        let drawing = read(&bytes);
        assert_eq!(drawing.header.default_drawing_units, ::dxf::enums::Units::Millimeters);
        let mut seen = Vec::new();
        for entity in drawing.entities() {
            match &entity.specific {
                EntityType::LwPolyline(line) => {
                    seen.push(entity.common.layer.clone());
                    if entity.common.layer == "CUT" {
                        assert!(line.is_closed());
                        for v in &line.vertices {
                            let r = libm::hypot(v.x - 100.0, v.y - 100.0);
                            assert!((r - 40.0).abs() < TOLERANCE + 0.001, "{r}");
                        }
                        // The middle of a chord is the farthest that a polyline strays.
                        let (a, b) = (&line.vertices[0], &line.vertices[1]);
                        let r = libm::hypot(f64::midpoint(a.x, b.x) - 100.0, f64::midpoint(a.y, b.y) - 100.0);
                        assert!(40.0 - r < TOLERANCE + 0.001, "{r}");
                    } else {
                        let ends: Vec<(f64, f64)> = line.vertices.iter().map(|v| (v.x, v.y)).collect();
                        assert_eq!(ends, [(80.0, 100.0), (120.0, 90.0)]);
                    }
                }
                EntityType::Text(text) => {
                    seen.push(entity.common.layer.clone());
                    assert!((text.second_alignment_point.y - 20.0).abs() < 1e-9);
                }
                other => panic!("{other:?}"),
            }
        }
        assert_eq!(seen, ["CUT", "SEAM", "WORDS"]);
        let names: Vec<String> = drawing.layers().map(|l| l.name.clone()).collect();
        assert!(["CUT", "SEAM", "WORDS"].iter().all(|n| names.iter().any(|m| m == n)), "{names:?}");
    }

    #[test]
    fn the_file_is_ascii_and_the_same_twice() {
        let file = bytes(&sheet()).expect("written");
        assert!(file.is_ascii());
        assert_eq!(file, bytes(&sheet()).expect("written"));
        assert!(!String::from_utf8_lossy(&file).contains("\\P"));
    }

    /// Identity: no handle stands for two things, and every owner exists.
    #[test]
    fn handles_are_unique_and_owners_exist() {
        let file = String::from_utf8(bytes(&sheet()).expect("written")).expect("ASCII");
        let lines: Vec<&str> = file.lines().collect();
        let (mut handles, mut owners) = (BTreeSet::new(), BTreeSet::from(["0"]));
        let mut after_header = false;
        for pair in lines.chunks(2) {
            after_header |= pair == ["2", "TABLES"];
            match pair[0] {
                "5" | "105" if after_header => assert!(handles.insert(pair[1]), "{} twice", pair[1]),
                "330" | "350" | "390" | "340" => {
                    owners.insert(pair[1]);
                }
                _ => {}
            }
        }
        handles.insert("0");
        assert!(owners.is_subset(&handles), "{:?}", owners.difference(&handles).collect::<Vec<_>>());
    }

    #[test]
    fn an_open_part_after_a_closed_one_is_kept() {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.line_to((1.0, 0.0));
        path.line_to((1.0, 1.0));
        path.line_to((0.0, 0.0));
        path.close_path();
        path.line_to((5.0, 5.0));
        let parts = polylines(&path);
        assert_eq!(parts.len(), 2);
        assert_eq!((parts[0].0.len(), parts[0].1), (3, true));
        assert_eq!(parts[1].0, [Point::new(0.0, 0.0), Point::new(5.0, 5.0)]);
    }

    #[test]
    fn a_scale_of_nothing_is_refused() {
        for scale in [0.0, -1.0, f64::NAN, 1e9] {
            let mut sheet = sheet();
            sheet.scale = Some(scale);
            assert!(matches!(bytes(&sheet), Err(Refused::Setting { .. })), "{scale}");
        }
    }
}
