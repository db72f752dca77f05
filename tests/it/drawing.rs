//! Sheets through every exporter: a sample page in every look, a pattern piece tiled and measured as printed. The pictures
//! are left in the target folder's `tmp/sheets` for the eye.
#![expect(clippy::disallowed_methods, reason = "a test writes its pictures to files and asks a program about them")]

use std::path::{Path, PathBuf};
use std::process::Command;

use clothwright::draw::caution::Hazard;
use clothwright::draw::chart::{Axis, Chart};
use clothwright::draw::sheet::{Affine, Anchor, BezPath, Draw, Fill, Line, Point, Rect, Shape, Sheet, Type};
use clothwright::draw::sheets::flow::{self, Flow, Stage, Stuff};
use clothwright::draw::sheets::hours::{self, Hours, Step};
use clothwright::draw::sheets::symbols::Symbol;
use clothwright::draw::style::Look;
use clothwright::draw::table::{Align, Column, Table};
use clothwright::draw::title::Paper;
use clothwright::draw::{caution, dimension, dxf, pdf, png, style, svg, text, tiles, title};
use clothwright::units::show::Style;
use clothwright::units::{G, HOUR, Q};

/// Where pictures for the eye go.
fn folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("sheets");
    std::fs::create_dir_all(&folder).expect("the target folder can be written");
    folder
}

fn keep(name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder().join(name);
    std::fs::write(&path, bytes).expect("the target folder can be written");
    path
}

/// A whorl with a groove, dimensioned, with a section.
fn whorl(sheet: &mut Sheet, at: Point) {
    sheet.group("whorl", Some("the whorl, front and section"), Affine::translate(at.to_vec2()), |g| {
        g.area(Fill::Part, Some(Line::Outline), kurbo_circle(31.5));
        g.circle(Line::Hidden, (0.0, 0.0), 29.5);
        g.area(Fill::Paper, Some(Line::Outline), kurbo_circle(5.0));
        g.line(Line::Centre, (-36.0, 0.0), (36.0, 0.0));
        g.line(Line::Centre, (0.0, -36.0), (0.0, 36.0));
        dimension::horizontal(g, (-31.5, 0.0), (31.5, 0.0), 42.0, "Ø 63 at the groove's floor");
        dimension::leader(g, (3.5, -3.5), (16.0, -40.0), &["Ø 10.2 bore,", "runs free on the shaft"]);
        dimension::angle(g, (0.0, 0.0), -150.0, -90.0, 18.0, "60°");
        dimension::mark(g, (-40.0, -32.0), (-20.0, -20.0), "S4");
        dimension::turns(g, Line::Curve, (0.0, 0.0), 24.0, 20.0, 70.0);
        let mut cut = BezPath::new();
        for (i, p) in [(62.0, -33.5), (74.0, -33.5), (70.0, -29.5), (66.0, -29.5)].into_iter().enumerate() {
            if i == 0 { cut.move_to(p) } else { cut.line_to(p) }
        }
        let section =
            [(60.0, -33.5), (65.0, -33.5), (68.0, -29.5), (71.0, -33.5), (76.0, -33.5), (76.0, -5.1), (60.0, -5.1)];
        for mirror in [1.0, -1.0] {
            let face: Vec<Point> = section.iter().map(|(x, y)| Point::new(*x, y * mirror)).collect();
            g.polygon(Fill::Part, Some(Line::Outline), face.iter().copied());
            let mut path = clothwright::draw::sheet::through(face);
            path.close_path();
            dimension::hatch(g, &path, 2.0, 45.0 * mirror);
        }
        g.line(Line::Outline, (60.0, -5.1), (60.0, 5.1));
        g.line(Line::Outline, (76.0, -5.1), (76.0, 5.1));
        g.line(Line::Centre, (56.0, 0.0), (80.0, 0.0));
        dimension::horizontal(g, (60.0, 33.5), (76.0, 33.5), 42.0, "16");
        dimension::horizontal(g, (65.0, -33.5), (71.0, -33.5), -39.0, "6");
        dimension::vertical(g, (76.0, -33.5), (76.0, 33.5), 84.0, "67");
        dimension::vertical(g, (76.0, -5.1), (76.0, 5.1), 91.0, "10.2");
    });
}

fn kurbo_circle(radius: f64) -> BezPath {
    clothwright::draw::extent::rotation(0.0) * kurbo::Circle::new((0.0, 0.0), radius).to_path(0.001)
}

fn sample_chart(sheet: &mut Sheet, frame: Rect) {
    let curve = |k: f64| (0..=40).map(move |i| (f64::from(i) * 30.0, k * f64::from(i) * f64::from(i) / 40.0));
    let band = (0..=40).map(|i| {
        let (x, y) = (f64::from(i) * 30.0, 0.55 * f64::from(i) * f64::from(i) / 40.0);
        (x, y * 0.8, y * 1.25 + 1.0)
    });
    Chart::new(
        frame,
        Axis::exactly("spindle, turns a minute", 0.0, 1200.0),
        Axis::over("pull at the hand, cN", 0.0, 36.0),
    )
    .range(Fill::Good, 15.0..=25.0, false, "good to draw against")
    .band(band)
    .curve(Line::Curve, curve(0.55), "half full bobbin")
    .curve(Line::Second, curve(0.75), "empty")
    .curve(Line::Third, curve(0.5), "full")
    .across(Line::Danger, 32.0, "the yarn breaks")
    .upright(Line::Doubt, 900.0, "set speed")
    .dots(Fill::Second, [(300.0, 2.8), (620.0, 8.1), (880.0, 16.4), (1010.0, 19.0)], 0.8)
    .note((620.0, 8.1), (-12.0, -14.0), "measured\non Tuesday")
    .draw(sheet);
}

fn sample_table(sheet: &mut Sheet, at: Point) -> f64 {
    let mut table = Table::new(vec![
        Column::new("mark", 12.0, Align::Start),
        Column::new("part", 52.0, Align::Start),
        Column::new("how many", 18.0, Align::End),
        Column::new("long", 24.0, Align::Point),
        Column::new("have it", 14.0, Align::Middle),
    ]);
    table.part("Frame");
    table.row(["L1", "side rail, beech, planed to 20 by 40", "2", "820 mm", "☐"]);
    table.row(["L2", "cross bar; round its upper edge where the warp turns over it", "3", "780.5 mm", "☐"]);
    table.part("Beams");
    table.row(["L7", "beam", "2", "1020.25 mm", "☐"]);
    table.row(["L8", "apron rod", "4", "9.5 mm", "☐"]);
    table.total(["", "all wood", "11", "7.42 m", ""]);
    table.draw(sheet, at)
}

fn sample() -> Sheet {
    let mut sheet =
        title::page(Paper::A4, "sample", "Whorl and brake of the spinner", "A sample of everything sheets hold.");
    sheet.scale = Some(1.0);
    let lead = "Turn the whorl from a hard wood, or print it. The groove's floor, not its rim, sets the ratio. \
                All lengths are millimetres.";
    let y = title::head(&mut sheet, lead);
    whorl(&mut sheet, Point::new(56.0, y + 46.0));
    sample_chart(&mut sheet, Rect::new(10.0, 132.0, 128.0, 202.0));
    let y = sample_table(&mut sheet, Point::new(10.0, 208.0));
    caution::draw(&mut sheet, (134.0, 208.0), 66.0, &[Hazard::Rotation]);
    dimension::scale_bar(&mut sheet, (140.0, 140.0), 1.0, 10.0, 5, |i| format!("{i}"));
    sheet.words(Type::Note, Anchor::Start, (140.0, 138.5), "centimetres");
    let mut ly = 154.0;
    for line in [Line::Cut, Line::Seam, Line::Fold, Line::Selvedge, Line::Ghost, Line::Danger, Line::Hidden] {
        sheet.line(line, (140.0, ly), (162.0, ly));
        sheet.words(Type::Small, Anchor::Start, (165.0, ly + 1.0), style::stroke(line).says);
        ly += 5.6;
    }
    dimension::grain(&mut sheet, (196.0, 190.0), (196.0, 152.0), "warp");
    let _ = text::paragraph(
        &mut sheet,
        Type::Note,
        (10.0, y + 2.0),
        118.0,
        "Lengths are as cut; a kerf of 3 mm is counted.",
    );
    title::foot(&mut sheet, "made from plan tern-bay-tee");
    sheet
}

/// A front piece at full size, seam allowance outside.
fn piece() -> Sheet {
    let mut sheet = Sheet::new("pattern", "Front of the tee", "The front piece at full size.", 640.0, 740.0);
    sheet.scale = Some(1.0);
    let outline = |grow: f64| {
        let mut path = BezPath::new();
        path.move_to((30.0 - grow, 710.0 + 2.0 * grow));
        path.line_to((30.0 - grow, 250.0));
        path.curve_to((70.0 - grow, 200.0), (80.0 - grow, 120.0), (85.0 - grow, 60.0 - grow));
        path.line_to((230.0 - grow, 30.0 - grow));
        path.curve_to((240.0 + grow, 140.0 - grow), (400.0 - grow, 140.0 - grow), (410.0 + grow, 30.0 - grow));
        path.line_to((555.0 + grow, 60.0 - grow));
        path.curve_to((560.0 + grow, 120.0), (570.0 + grow, 200.0), (610.0 + grow, 250.0));
        path.line_to((610.0 + grow, 710.0 + 2.0 * grow));
        path.close_path();
        path
    };
    sheet.group("cut", Some("cut here"), Affine::IDENTITY, |g| g.path(Line::Cut, outline(12.0)));
    sheet.group("seam", Some("sew here"), Affine::IDENTITY, |g| g.path(Line::Seam, outline(0.0)));
    dimension::grain(&mut sheet, (320.0, 600.0), (320.0, 260.0), "warp");
    sheet.words(Type::Title, Anchor::Middle, (320.0, 200.0), "Front, cut 1");
    // Two lines whose place is measured in the joined pages.
    sheet.line(Line::Notch, (100.0, 420.0), (540.0, 420.0));
    sheet
}

#[test]
fn a_sheet_goes_through_every_exporter() {
    let sheet = sample();
    for (name, look) in [("sample-light.png", Look::Light), ("sample-dark.png", Look::Dark)] {
        keep(name, &png::bytes(&sheet, 130.0, look).expect("drawn"));
    }
    keep("sample.pdf", &pdf::single(&sheet).expect("drawn"));
    keep("sample.svg", svg::file(&sheet).as_bytes());
    keep("sample.dxf", &dxf::bytes(&sheet).expect("drawn"));
    let page = format!(
        "<!doctype html><meta charset=utf-8><title>t</title><style>{}body{{background:var(--cw-paper)}}</style>{}",
        style::page_css(),
        svg::inline(&sheet)
    );
    keep("sample.html", page.as_bytes());
}

/// A grey picture of a page of a PDF, by another program (poppler's `pdftoppm`).
fn rendered(file: &Path, page: usize, dots: u32) -> Grey {
    let out = Command::new("pdftoppm")
        .args(["-gray", "-r", &dots.to_string(), "-f", &page.to_string(), "-l", &page.to_string()])
        .arg(file)
        .output()
        .expect("pdftoppm of Debian's poppler-utils is installed");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    Grey::read(&out.stdout, f64::from(dots) / 25.4)
}

struct Grey {
    width: usize,
    pixels: Vec<u8>,
    per_mm: f64,
}

impl Grey {
    fn read(pgm: &[u8], per_mm: f64) -> Grey {
        let head: Vec<&str> = std::str::from_utf8(&pgm[..40.min(pgm.len())])
            .unwrap_or_else(|e| std::str::from_utf8(&pgm[..e.valid_up_to()]).expect("valid"))
            .split_ascii_whitespace()
            .take(4)
            .collect();
        assert_eq!(head[0], "P5");
        let (width, height): (usize, usize) = (head[1].parse().expect("a number"), head[2].parse().expect("a number"));
        Grey { width, pixels: pgm[pgm.len() - width * height..].to_vec(), per_mm }
    }
    fn at(&self, x: f64, y: f64) -> u8 {
        let (x, y) = ((x * self.per_mm) as usize, (y * self.per_mm) as usize);
        self.pixels.get(y * self.width + x).copied().unwrap_or(255)
    }
    /// Middle of the first dark line met from `from` along `way` within `most` mm.
    fn line_from(&self, from: Point, way: (f64, f64), most: f64) -> Option<f64> {
        let step = 0.25 / self.per_mm;
        let dark = |t: f64| self.at(from.x + way.0 * t, from.y + way.1 * t) < 170;
        let mut t = 0.0;
        while t < most {
            if dark(t) {
                let start = t;
                while dark(t) && t < most {
                    t += step;
                }
                return Some(f64::midpoint(start, t));
            }
            t += step;
        }
        None
    }
}

/// The tiling's own promise, measured by another program: what is on two pages lies at the same place of the sheet on both.
#[test]
fn printed_pages_measure_true_and_join() {
    let sheet = piece();
    for paper in [Paper::A4, Paper::Letter] {
        let overlap = 15.0;
        let bytes = tiles::pdf(&sheet, paper, overlap).expect("tiled");
        assert_eq!(bytes, tiles::pdf(&sheet, paper, overlap).expect("tiled"), "same bytes");
        let file = keep(&format!("tiles-{}.pdf", paper.says()), &bytes);
        let tiling = tiles::Tiling::new(&sheet, paper, overlap).expect("tiled");
        let mut page_number = 1;
        let mut notch_pages = 0;
        for (row, column) in (0..tiling.rows).flat_map(|r| (0..tiling.columns).map(move |c| (r, c))) {
            if !tiling.is_shown(row, column) {
                continue;
            }
            page_number += 1;
            let page = rendered(&file, page_number, 200);
            notch_pages += usize::from(notch_is_right(&page, &tiling, row, column));
        }
        assert!(notch_pages >= 3, "the level line crosses at least three pages, seen on {notch_pages}");
    }
}

/// Where this page shows the level line of the piece, it must be within 0.15 mm of its place.
fn notch_is_right(page: &Grey, tiling: &tiles::Tiling, row: usize, column: usize) -> bool {
    let own = tiling.window(row, column);
    let x = f64::midpoint(own.x0.max(100.0), own.x1.min(540.0));
    if own.x0 > 500.0 || own.x1 < 140.0 || own.y0 > 410.0 || own.y1 < 430.0 {
        return false;
    }
    // The line is met at several x, since words or the grain arrow may cross at one.
    let met: Vec<f64> = [-20.0, -9.0, 3.0, 11.0]
        .into_iter()
        .filter_map(|dx| {
            let from = Point::new(x + dx - own.x0 + tiles::EDGE, 417.0 - own.y0 + tiles::EDGE);
            page.line_from(from, (0.0, 1.0), 6.0).map(|t| 417.0 + t)
        })
        .collect();
    let right = met.iter().filter(|y| (**y - 420.0).abs() < 0.15).count();
    assert!(right >= 2, "row {row}, column {column}: the line is met at {met:?}");
    true
}

#[test]
fn the_test_square_is_a_hundred_millimetres() {
    let mut sheet = Sheet::new("square", "Square", "", 210.0, 297.0);
    dimension::test_square(&mut sheet, (31.0, 47.0));
    let file = keep("square.pdf", &pdf::single(&sheet).expect("drawn"));
    let page = rendered(&file, 1, 400);
    let across = |y: f64| {
        let left = page.line_from(Point::new(25.0, y), (1.0, 0.0), 12.0).expect("left side") + 25.0;
        let right = 140.0 - page.line_from(Point::new(140.0, y), (-1.0, 0.0), 12.0).expect("right side");
        right - left
    };
    let down = |x: f64| {
        let top = page.line_from(Point::new(x, 40.0), (0.0, 1.0), 12.0).expect("top side") + 40.0;
        let bottom = 155.0 - page.line_from(Point::new(x, 155.0), (0.0, -1.0), 12.0).expect("bottom side");
        bottom - top
    };
    for (what, length) in
        [("across", across(60.0)), ("across", across(140.0)), ("down", down(40.0)), ("down", down(120.0))]
    {
        assert!((length - 100.0).abs() < 0.1, "{what}: {length:.3} mm");
    }
}

/// Places (mm) of all madder pixels of a page as rendered by another program.
fn madder(file: &Path, page: usize, dots: u32) -> Vec<(f64, f64)> {
    let out = Command::new("pdftoppm")
        .args(["-r", &dots.to_string(), "-f", &page.to_string(), "-l", &page.to_string()])
        .arg(file)
        .output()
        .expect("pdftoppm of Debian's poppler-utils is installed");
    let head: Vec<&[u8]> = out.stdout.split(|b| b.is_ascii_whitespace()).take(3).collect();
    assert_eq!(head[0], b"P6");
    let number = |b: &[u8]| std::str::from_utf8(b).expect("ASCII").parse::<usize>().expect("a number");
    let (width, height) = (number(head[1]), number(head[2]));
    let pixels = &out.stdout[out.stdout.len() - 3 * width * height..];
    let per_mm = f64::from(dots) / 25.4;
    let red = |p: &[u8]| p[0] > 140 && p[1] < 110 && p[2] < 110;
    let place = |i: usize| ((i % width) as f64 + 0.5, (i / width) as f64 + 0.5);
    let found = pixels.chunks(3).enumerate().filter(|(_, p)| red(p)).map(|(i, _)| place(i));
    found.map(|(x, y)| (x / per_mm, y / per_mm)).collect()
}

/// The cut line of the joined pages is the cut line of the single sheet, both ways, within two pixels: nothing is missing
/// at a joint, nothing is doubled.
#[test]
fn joined_pages_show_the_same_outline_as_one_sheet() {
    const DOTS: u32 = 100;
    let sheet = piece();
    let whole = keep("piece.pdf", &pdf::single(&sheet).expect("drawn"));
    let one: Vec<(f64, f64)> = madder(&whole, 1, DOTS);
    let file = keep("piece-tiles.pdf", &tiles::pdf(&sheet, Paper::A4, 12.0).expect("tiled"));
    let tiling = tiles::Tiling::new(&sheet, Paper::A4, 12.0).expect("tiled");
    let mut joined = Vec::new();
    let mut page = 1;
    for (row, column) in (0..tiling.rows).flat_map(|r| (0..tiling.columns).map(move |c| (r, c))) {
        if tiling.is_shown(row, column) {
            page += 1;
            let own = tiling.window(row, column);
            let on_sheet = |(x, y): (f64, f64)| (x - tiles::EDGE + own.x0, y - tiles::EDGE + own.y0);
            joined.extend(madder(&file, page, DOTS).into_iter().map(on_sheet));
        }
    }
    assert!(one.len() > 4000 && joined.len() > one.len() * 9 / 10, "{} {}", one.len(), joined.len());
    let cells = |points: &[(f64, f64)]| -> std::collections::BTreeSet<(i64, i64)> {
        points.iter().map(|(x, y)| ((x * 2.0) as i64, (y * 2.0) as i64)).collect()
    };
    for (from, to, what) in [(&one, &joined, "missing from the pages"), (&joined, &one, "only on the pages")] {
        let there = cells(to);
        let near = |(x, y): &(i64, i64)| (-1..=1).any(|i| (-1..=1).any(|j| there.contains(&(x + i, y + j))));
        let alone: Vec<_> = cells(from).into_iter().filter(|c| !near(c)).collect();
        assert!(alone.is_empty(), "{what}: {:?} half millimetres", &alone[..alone.len().min(5)]);
    }
}

/// Other program: `pdfinfo` reads the page size to a thousandth of a point, the title, and no date.
#[test]
fn a_pdf_says_what_it_is() {
    let file = keep("sample.pdf", &pdf::pages(&[sample(), piece()]).expect("drawn"));
    let out = Command::new("pdfinfo").args(["-f", "1", "-l", "2"]).arg(&file).output().expect("pdfinfo is installed");
    let words = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(words.contains("Whorl and brake of the spinner") && words.contains("Clothwright"), "{words}");
    assert!(words.contains("595.276 x 841.89") && words.contains("1814.17 x 2097.64"), "{words}");
    assert!(!words.contains("Date"), "{words}");
}

#[test]
fn every_page_carries_its_square() {
    let sheet = piece();
    let file = keep("tiles-square.pdf", &tiles::pdf(&sheet, Paper::A4, 10.0).expect("tiled"));
    let out = Command::new("pdftotext").arg(&file).arg("-").output().expect("pdftotext is installed");
    let words = String::from_utf8_lossy(&out.stdout).into_owned();
    let tiling = tiles::Tiling::new(&sheet, Paper::A4, 10.0).expect("tiled");
    assert_eq!(words.matches("Test square").count(), tiling.pages() + 1, "one a page, and on the map");
    assert!(words.contains("Print all pages at 100 %") && words.contains("B2"));
}

fn tern_bay() -> Flow {
    let stage = |name: &str, grams: f64, stuff, symbol, note: &str, step: &str, lost: &str| Stage {
        name: name.to_string(),
        mass: Q::new(grams, &G),
        range: None,
        stuff,
        symbol,
        note: note.to_string(),
        step: step.to_string(),
        lost: lost.to_string(),
    };
    let mut stages = vec![
        stage("seed cotton", 1097.0, Stuff::Fibre, Symbol::Boll, "16 plants", "ginning", "seed and hull"),
        stage("lint", 373.0, Stuff::Fibre, Symbol::Lint, "", "carding", "neps and dust"),
        stage("carded fibre", 317.0, Stuff::Fibre, Symbol::Sliver, "", "spinning", "ends and waste"),
        stage("yarn", 295.0, Stuff::Yarn, Symbol::Bobbin, "5.4 km, 52.1 tex", "weaving", "loom waste, spare yarn"),
        stage("cloth", 218.0, Stuff::Cloth, Symbol::Cloth, "188 by 59 cm, washed", "cutting", "offcuts"),
        stage("tee", 176.0, Stuff::Cloth, Symbol::Tee, "", "", ""),
    ];
    stages[0].range = Some((Q::new(910.0, &G), Q::new(1330.0, &G)));
    stages[3].range = Some((Q::new(270.0, &G), Q::new(322.0, &G)));
    Flow { title: "From seed cotton to the tee".to_string(), stages, style: Style::Metric }
}

/// A wool scarf, eight stages with long names, and a step that loses nothing.
fn scarf() -> Flow {
    let stage = |name: &str, grams: f64, stuff, symbol, note: &str, step: &str, lost: &str| Stage {
        name: name.to_string(),
        mass: Q::new(grams, &G),
        range: Some((Q::new(grams * 0.85, &G), Q::new(grams * 1.2, &G))),
        stuff,
        symbol,
        note: note.to_string(),
        step: step.to_string(),
        lost: lost.to_string(),
    };
    let stages = vec![
        stage(
            "grease fleece, skirted",
            330.0,
            Stuff::Fibre,
            Symbol::Fleece,
            "a third of a fleece",
            "scouring",
            "grease, suint, dirt",
        ),
        stage("clean wool", 205.0, Stuff::Fibre, Symbol::Lint, "", "carding", "noils and second cuts"),
        stage("rolags", 180.0, Stuff::Fibre, Symbol::Sliver, "", "spinning", "ends"),
        stage("singles", 172.0, Stuff::Yarn, Symbol::Bobbin, "1.6 km", "plying", ""),
        stage("two-ply yarn", 172.0, Stuff::Yarn, Symbol::Bobbin, "780 m", "weaving", "loom waste"),
        stage("cloth", 151.0, Stuff::Cloth, Symbol::Cloth, "", "washing", "what was left of the grease"),
        stage("scarf", 149.0, Stuff::Cloth, Symbol::Scarf, "30 by 180 cm", "", ""),
    ];
    Flow { title: "From fleece to scarf".to_string(), stages, style: Style::Inch }
}

#[test]
fn a_long_flow_fits_too() {
    keep("flow-scarf-wide.png", &png::bytes(&flow::wide(&scarf()), 130.0, Look::Light).expect("drawn"));
    keep("flow-scarf-narrow.png", &png::bytes(&flow::narrow(&scarf()), 130.0, Look::Light).expect("drawn"));
}

#[test]
fn the_flow_runs_wide_and_narrow() {
    for (name, sheet) in [("wide", flow::wide(&tern_bay())), ("narrow", flow::narrow(&tern_bay()))] {
        for look in [Look::Light, Look::Dark] {
            keep(&format!("flow-{name}-{look:?}.png"), &png::bytes(&sheet, 130.0, look).expect("drawn"));
        }
        let inline = svg::inline(&sheet);
        assert!(inline.len() < 60_000, "{} bytes in a page", inline.len());
        keep(&format!("flow-{name}.pdf"), &pdf::single(&sheet).expect("drawn"));
    }
}

#[test]
fn the_hours_run_wide_and_narrow() {
    let step = |name: &str, low: f64, middle: f64, high: f64, own: bool, done: Option<f64>| Step {
        name: name.to_string(),
        middle: Q::new(middle, &HOUR),
        low: Q::new(low, &HOUR),
        high: Q::new(high, &HOUR),
        own,
        done: done.map(|d| Q::new(d, &HOUR)),
    };
    let hours = Hours {
        title: "Hours".to_string(),
        steps: vec![
            step("ginning", 5.0, 7.4, 11.0, true, Some(7.4)),
            step("carding", 9.0, 13.0, 19.0, true, Some(9.5)),
            step("spinning", 44.0, 56.0, 74.0, true, Some(12.0)),
            step("warping", 2.5, 4.0, 6.0, false, None),
            step("threading", 6.0, 7.5, 10.0, false, None),
            step("weaving", 10.0, 16.0, 26.0, false, None),
            step("sewing", 3.0, 4.5, 7.0, false, None),
            step("printing", 1.0, 2.0, 3.5, false, None),
        ],
        total: step("In all", 92.0, 110.0, 136.0, false, None),
    };
    for (name, sheet) in [("wide", hours::wide(&hours)), ("narrow", hours::narrow(&hours))] {
        keep(&format!("hours-{name}.png"), &png::bytes(&sheet, 130.0, Look::Light).expect("drawn"));
    }
}

/// Measures in every position, for the eye.
#[test]
fn measures_in_every_position() {
    let mut sheet = Sheet::new("measures", "Measures", "", 180.0, 120.0);
    let corners = [(20.0, 60.0), (50.0, 30.0), (80.0, 60.0), (50.0, 90.0)].map(Point::from);
    sheet.polygon(Fill::Part, Some(Line::Outline), corners);
    for i in 0..4 {
        dimension::aligned(&mut sheet, corners[i], corners[(i + 1) % 4], -7.0, "42.4");
    }
    dimension::angle(&mut sheet, corners[0], -45.0, 45.0, 14.0, "90°");
    dimension::angle(&mut sheet, corners[2], 135.0, 225.0, 9.0, "90°");
    dimension::radius(&mut sheet, (50.0, 60.0), 12.0, -35.0, "R 12");
    sheet.circle(Line::Detail, (50.0, 60.0), 12.0);
    let stops: Vec<Point> = [100.0, 103.0, 109.0, 128.0, 160.0].map(|x| Point::new(x, 30.0)).to_vec();
    sheet.area(Fill::OtherPart, Some(Line::Outline), Rect::new(100.0, 30.0, 160.0, 40.0).to_path(0.1));
    dimension::chain(&mut sheet, &stops, 20.0, &["3", "6", "19", "32"].map(String::from));
    dimension::horizontal(&mut sheet, (100.0, 30.0), (160.0, 30.0), 12.0, "60 over all");
    dimension::vertical(&mut sheet, (160.0, 30.0), (160.0, 40.0), 168.0, "10");
    dimension::vertical(&mut sheet, (100.0, 40.0), (100.0, 36.0), 94.0, "4");
    dimension::way(&mut sheet, Line::Curve, (100.0, 60.0), (140.0, 50.0), "warp runs on");
    dimension::way(&mut sheet, Line::Danger, (140.0, 66.0), (100.0, 66.0), "pull");
    dimension::shortened(&mut sheet, (100.0, 76.0), (160.0, 76.0));
    dimension::shortened(&mut sheet, (100.0, 84.0), (160.0, 84.0));
    dimension::mark(&mut sheet, (150.0, 95.0), (130.0, 80.0), "L12");
    dimension::leader(&mut sheet, (110.0, 80.0), (100.0, 95.0), &["drill Ø 8,", "both sides"]);
    dimension::turns(&mut sheet, Line::Danger, (165.0, 60.0), 8.0, -200.0, 60.0);
    title::legend(&mut sheet, (100.0, 102.0), &[Line::Cut, Line::Seam, Line::Fold, Line::Notch], 2);
    keep("measures.png", &png::bytes(&sheet, 160.0, Look::Light).expect("drawn"));
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(24))]
    /// Whatever a person calls a thing, every format holds it and other readers read it.
    #[test]
    fn any_words_go_into_any_format(words in "\\PC{0,40}|[\\x00-\\x7f]{0,40}", x in -500.0..500.0f64, turn in -400.0..400.0f64) {
        let mut sheet = Sheet::new(&words, &words, &words, 120.0, 80.0);
        sheet.group(&words, Some(&words), Affine::translate((x, 5.0)), |g| {
            g.words_turned(Type::Figure, Anchor::End, (x, 20.0), turn, words.as_str());
            g.line(Line::Cut, (0.0, 0.0), (x, turn));
        });
        title::head(&mut sheet, &words);
        for svg in [svg::inline(&sheet), svg::file(&sheet)] {
            usvg::roxmltree::Document::parse(&svg).expect("sound XML");
        }
        pdf::single(&sheet).expect("a PDF");
        let file = dxf::bytes(&sheet).expect("a DXF");
        ::dxf::Drawing::load(&mut std::io::Cursor::new(&file)).expect("another reader reads it");
    }
}
