//! The print against things outside: films measured in the rendered PDF by another program, tones of a wedge by counting its dots, stencils
//! by their topology, and files that mean harm.
#![expect(
    clippy::disallowed_methods,
    reason = "writes films for another program to draw, and asks the clock how long a refusal takes"
)]

use crate::scene::{outcome_of, source, with, worked};
use clothwright::draw::film::{self, Bits, Film};
use clothwright::draw::of_plan::{self, Format, Options};
use clothwright::draw::sheet::{Line, Rect};
use clothwright::draw::sheets::film::{Words, laid};
use clothwright::draw::title::Paper;
use clothwright::geom;
use clothwright::print::artwork::Artwork;
use clothwright::print::distance::parts;
use clothwright::print::dots::{Form, Tone};
use clothwright::print::outline;
use clothwright::print::plate::Plate;
use clothwright::units::show::Style;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}

fn written(folder: &tempfile::TempDir, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.path().join(name);
    std::fs::write(&path, bytes).expect("written");
    path
}

/// A page drawn in grey by poppler.
struct Grey {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
    per_mm: f64,
}

fn drawn(pdf: &Path, page: usize, dots: u32) -> Grey {
    let page = page.to_string();
    let out = Command::new("pdftoppm")
        .args(["-gray", "-r", &dots.to_string(), "-f", &page, "-l", &page])
        .arg(pdf)
        .output()
        .expect("pdftoppm of Debian's poppler-utils is installed");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let head: Vec<&[u8]> = out.stdout.split(|b| b.is_ascii_whitespace()).take(3).collect();
    assert_eq!(head[0], b"P5");
    let number = |b: &[u8]| std::str::from_utf8(b).expect("ASCII").parse::<usize>().expect("a number");
    let (width, height) = (number(head[1]), number(head[2]));
    let pixels = out.stdout[out.stdout.len() - width * height..].to_vec();
    Grey { width, height, pixels, per_mm: f64::from(dots) / 25.4 }
}

impl Grey {
    /// Ink in a part of the page, 0 to 1; mm.
    fn ink(&self, part: Rect) -> f64 {
        let at = |mm: f64, most: usize| ((mm * self.per_mm).round().max(0.0) as usize).min(most);
        let (x0, x1, y0, y1) =
            (at(part.x0, self.width), at(part.x1, self.width), at(part.y0, self.height), at(part.y1, self.height));
        let mut sum = 0u64;
        for y in y0..y1 {
            sum +=
                self.pixels[y * self.width + x0..y * self.width + x1].iter().map(|p| u64::from(255 - p)).sum::<u64>();
        }
        sum as f64 / (255.0 * ((x1 - x0) * (y1 - y0)) as f64)
    }
    /// Bounds of the ink in a part of the page, mm.
    fn bounds(&self, part: Rect) -> Rect {
        let mut found: Option<Rect> = None;
        let (x0, x1) = ((part.x0 * self.per_mm) as usize, ((part.x1 * self.per_mm) as usize).min(self.width));
        let (y0, y1) = ((part.y0 * self.per_mm) as usize, ((part.y1 * self.per_mm) as usize).min(self.height));
        for y in y0..y1 {
            for x in x0..x1 {
                if self.pixels[y * self.width + x] < 128 {
                    let one = Rect::new(x as f64, y as f64, x as f64 + 1.0, y as f64 + 1.0);
                    found = Some(found.map_or(one, |r| r.union(one)));
                }
            }
        }
        found.expect("ink").scale_from_origin(1.0 / self.per_mm)
    }
}

fn film_of<'a>(plate: &'a Plate, pixel: f64, tone: Tone, steps: &'a Plate) -> Film<'a> {
    let size = (plate.width as f64 * pixel, plate.height as f64 * pixel);
    let words = Words {
        title: "A film to measure",
        ink: "black",
        number: 1,
        of: 1,
        size,
        sized: "as printed",
        mesh: None,
        tone,
        style: Style::Metric,
    };
    let made = laid(&words);
    let rows = Tone::Rows { ruling: 0.8, angle: 22.5, form: Form::Round };
    let bits = vec![
        Bits { plate, pixel, tone, at: made.picture },
        Bits { plate: steps, pixel: made.wedge.width() / steps.width as f64, tone: rows, at: made.wedge },
    ];
    Film { sheet: made.sheet, bits, dpi: 1200.0 }
}

/// A wedge as the films have it: eleven even steps.
fn steps() -> Plate {
    let step = |i: usize| (255 * (i % 440 / 40) / 10) as u8;
    Plate { width: 440, height: 40, cover: (0..440 * 40).map(step).collect() }
}

/// Edges of the picture, its registration marks and its size, in the PDF as another program draws it: within a tenth of a millimetre.
#[test]
fn a_film_is_true_to_size() {
    let pixel = 0.1;
    // bars at 10 and 150 mm across, and at 5 and 95 mm down
    let bar = |x: usize, y: usize| {
        let (x, y) = (x as f64 * pixel, y as f64 * pixel);
        (10.0..12.0).contains(&x) || (150.0..152.0).contains(&x) || (5.0..7.0).contains(&y) || (95.0..97.0).contains(&y)
    };
    let plate = Plate::of(1600, 1000, bar);
    let steps = steps();
    let film = film_of(&plate, pixel, Tone::Solid, &steps);
    let (picture, page) = (film.bits[0].at, (film.sheet.width, film.sheet.height));
    let folder = folder();
    let file = written(&folder, "film.pdf", &film::pdf(&[film], None).expect("a film"));
    let grey = drawn(&file, 1, 600);
    assert!(
        (grey.width as f64 / grey.per_mm - page.0).abs() < 0.1
            && (grey.height as f64 / grey.per_mm - page.1).abs() < 0.1
    );
    let near = |found: f64, wished: f64, what: &str| assert!((found - wished).abs() < 0.1, "{what}: {found} {wished}");
    for (x, y) in [(10.0, 50.0), (150.0, 50.0)] {
        let part = Rect::from_center_size(picture.origin() + kurbo_vec(x + 1.0, y), (8.0, 4.0));
        let bar = grey.bounds(part);
        near(bar.x0, picture.x0 + x, "left edge");
        near(bar.x1, picture.x0 + x + 2.0, "right edge");
    }
    for (x, y) in [(80.0, 5.0), (80.0, 95.0)] {
        let part = Rect::from_center_size(picture.origin() + kurbo_vec(x, y + 1.0), (4.0, 8.0));
        let bar = grey.bounds(part);
        near(bar.y0, picture.y0 + y, "upper edge");
        near(bar.y1, picture.y0 + y + 2.0, "lower edge");
    }
    // the marks above and below stand on the picture's upright centre line, at one distance from it
    let middle = picture.center();
    for y in [picture.y0 - 12.0, picture.y1 + 12.0] {
        let mark = grey.bounds(Rect::from_center_size((middle.x, y), (13.0, 9.0)));
        near(mark.center().x, middle.x, "mark across");
        let ring = grey.bounds(Rect::from_center_size((middle.x + 3.2, y), (2.6, 9.0)));
        near(ring.center().y, y, "mark down");
    }
}

fn kurbo_vec(x: f64, y: f64) -> clothwright::draw::sheet::Vec2 {
    clothwright::draw::sheet::Vec2::new(x, y)
}

/// The wedge's steps as another program draws them: mean ink within one point of a hundred of the tone wished.
#[test]
fn a_wedge_has_its_tones() {
    let plate = Plate::of(200, 200, |x, _| x < 20);
    let steps = steps();
    let film = film_of(&plate, 0.2, Tone::Solid, &steps);
    let wedge = film.bits[1].at;
    let folder = folder();
    let file = written(&folder, "wedge.pdf", &film::pdf(&[film], None).expect("a film"));
    let grey = drawn(&file, 1, 1200);
    let wide = wedge.width() / 11.0;
    let mut off = 0.0;
    for step in 0..11 {
        // off the frame and off the soft border between steps
        let x = wedge.x0 + f64::from(step) * wide;
        let inner = Rect::new(x + 0.6, wedge.y0 + 0.6, x + wide - 0.6, wedge.y1 - 0.6);
        let (wished, found) = (f64::from(255 * step / 10) / 255.0, grey.ink(inner));
        // a step holds some forty dots, so those cut by its edges count a little
        assert!((found - wished).abs() < 0.03, "step {step}: {found:.4} {wished:.4}");
        off += (found - wished) / 11.0;
    }
    // over the whole wedge they do not
    assert!(off.abs() < 0.01, "{off:.4}");
}

/// A whole film of one tone, of each kind of dots, drawn by another program: mean ink within one point of a hundred.
#[test]
fn films_of_dots_have_their_tone() {
    let steps = steps();
    let folder = folder();
    for (n, tone) in [
        Tone::Rows { ruling: 1.2, angle: 22.5, form: Form::Round },
        Tone::Rows { ruling: 0.9, angle: 67.5, form: Form::Ellipse },
        Tone::Scattered { grain: 0.25 },
    ]
    .into_iter()
    .enumerate()
    {
        for cover in [38u8, 128, 217] {
            let plate = Plate { width: 100, height: 100, cover: vec![cover; 10_000] };
            let film = film_of(&plate, 0.6, tone, &steps);
            let at = film.bits[0].at;
            let file = written(&folder, &format!("{n}-{cover}.pdf"), &film::pdf(&[film], None).expect("a film"));
            let found = drawn(&file, 1, 1200).ink(at);
            assert!((found - f64::from(cover) / 255.0).abs() < 0.01, "{tone:?} {cover}: {found}");
        }
    }
}

/// A large film in pieces shows everything that the whole shows, where it shows it.
#[test]
fn pieces_of_a_film_are_the_film() {
    let plate = Plate::of(1500, 1500, |x, y| (x / 100 + y / 100) % 2 == 0);
    let steps = steps();
    let folder = folder();
    let make = |paper| film::pdf(&[film_of(&plate, 0.2, Tone::Solid, &steps)], paper).expect("a film");
    let whole = drawn(&written(&folder, "whole.pdf", &make(None)), 1, 100);
    let file = written(&folder, "pieces.pdf", &make(Some((Paper::A4, 15.0))));
    let tiling =
        clothwright::draw::tiles::Tiling::new(&film_of(&plate, 0.2, Tone::Solid, &steps).sheet, Paper::A4, 15.0)
            .expect("tiled");
    assert!(tiling.rows * tiling.columns >= 4);
    for row in 0..tiling.rows {
        for column in 0..tiling.columns {
            let piece = drawn(&file, 1 + row * tiling.columns + column, 100);
            let part = tiling.window(row, column);
            let (left, top) = ((tiling.page().0 - part.width()) / 2.0, (tiling.page().1 - part.height()) / 2.0);
            for (x, y) in [(30.0, 40.0), (90.0, 120.0), (150.0, 200.0)] {
                let (from, to) =
                    (Rect::from_origin_size((left + x, top + y), (12.0, 12.0)), (part.x0 + x, part.y0 + y));
                let there = Rect::from_origin_size(to, (12.0, 12.0));
                let inside =
                    there.x1 < whole.width as f64 / whole.per_mm && there.y1 < whole.height as f64 / whole.per_mm;
                if inside && from.x1 < left + part.width() && from.y1 < top + part.height() {
                    assert!((piece.ink(from) - whole.ink(there)).abs() < 0.03, "{row} {column} {x} {y}");
                }
            }
        }
    }
}

/// The demo's films: one page an ink, each as large as the picture asks, the same bytes twice.
#[test]
fn films_of_the_demo() {
    let outcome = worked("tern-bay-tee.toml", 0);
    let make = || of_plan::export(&outcome, "film", Format::Pdf, &Options::default()).expect("films");
    let files = make();
    assert_eq!(files.iter().map(|f| f.file_name.as_str()).collect::<Vec<_>>(), ["film.pdf", "film-how.pdf"]);
    assert_eq!(files, make(), "same plan, same bytes");
    let folder = folder();
    let file = written(&folder, "film.pdf", &files[0].bytes);
    let prints = outcome.prints().expect("a print").as_ref().expect("sound");
    assert_eq!(prints.inks().len(), 2);
    for page in 1..=2 {
        let grey = drawn(&file, page, 150);
        assert!((grey.width as f64 / grey.per_mm - prints.size.0 - 44.0).abs() < 0.3, "page {page}");
        // the share of ink that the job sheet reckons with is what is on the film
        let made = (42.0, 42.0 + prints.size.1);
        let share = grey.ink(Rect::new(22.0, made.0, 22.0 + prints.size.0, made.1));
        assert!((share - prints.parted.plates[page - 1].share()).abs() < 0.003, "page {page}: {share}");
    }
    // printed after the wash: larger only by what later washes take
    assert!((prints.size.0 / prints.worn.0 - 1.0 / 0.98).abs() < 1e-6);
}

/// Printed before the wash the film is larger by what the cloth loses, width and length each by its own.
#[test]
fn before_the_wash_the_film_is_larger() {
    let (text, files) = source("tern-bay-tee.toml");
    let text = with(&text, "when = \"after-wash\"", "when = \"before-wash\"");
    let text = with(
        &text,
        "shrink = { width = \"8 ± 2 %\", length = \"8 ± 2 %\" }",
        "shrink = { width = \"6 %\", length = \"10 %\" }",
    );
    let outcome = outcome_of(&text, &files, 0);
    let prints = outcome.prints().expect("a print").as_ref().expect("sound");
    assert!((prints.size.0 * 0.94 - prints.worn.0).abs() < 1e-6 && (prints.size.1 * 0.90 - prints.worn.1).abs() < 1e-6);
    assert!((prints.worn.0 - 240.0).abs() < 1e-6);
}

/// No island is loose in any stencil of the demo: what is left of the sheet is one part, told by squares and by outlines.
#[test]
fn stencils_of_the_demo_hold_together() {
    let (text, files) = source("tern-bay-tee.toml");
    let outcome = outcome_of(&with(&text, "method = \"screen\"", "method = \"stencil\""), &files, 0);
    let prints = outcome.prints().expect("a print").as_ref().expect("sound");
    let mut islands = 0;
    for ink in 0..prints.inks().len() {
        let (made, pixel) = prints.stencil(ink).expect("held");
        let sheet: Vec<bool> = made.cut.mask().iter().map(|cut| !cut).collect();
        assert_eq!(parts(&sheet, made.cut.width, made.cut.height, false).1, 1, "ink {ink}");
        let lines = outline::outlines(&made.cut.softened());
        assert!(
            lines.iter().all(|line| geom::area(line) > 0.0 || geom::area(line).abs() * pixel * pixel < 0.05),
            "ink {ink}"
        );
        islands += made.islands;
    }
    println!("{islands} islands were held");
    let sheets = of_plan::sheets(&outcome, "film").expect("stencils");
    assert!(sheets.iter().any(|sheet| sheet.title.starts_with("Stencil 1 of 2")), "{:?}", sheets[1].title);
}

/// A ring with a dot in it: the stencil holds both islands, whatever the size of the bridge.
#[test]
fn a_letter_o_keeps_its_middle() {
    let ring = |x: usize, y: usize| {
        let far = (((x as i64 - 500).pow(2) + (y as i64 - 500).pow(2)) as f64).sqrt();
        (200.0..380.0).contains(&far) || (80.0..140.0).contains(&far)
    };
    let plate = Plate::of(1000, 1000, ring);
    for bridge in [8.0, 20.0, 33.0] {
        let made = clothwright::print::stencil::stencil(&plate, bridge).expect("held");
        assert_eq!(made.islands, 2);
        let sheet: Vec<bool> = made.cut.mask().iter().map(|cut| !cut).collect();
        assert_eq!(parts(&sheet, 1000, 1000, false).1, 1, "{bridge}");
    }
}

/// A block is cut in reverse, and its limits are the gouge's.
#[test]
fn blocks_are_mirrored() {
    let (text, files) = source("tern-bay-tee.toml");
    let outcome = outcome_of(&with(&text, "method = \"screen\"", "method = \"block\""), &files, 0);
    let prints = outcome.prints().expect("a print").as_ref().expect("sound");
    assert!(prints.mesh.is_none() && (prints.line - 2.0).abs() < 1e-9, "{}", prints.line);
    let sheets = of_plan::sheets(&outcome, "film").expect("blocks");
    let block = sheets.iter().find(|sheet| sheet.title.starts_with("Block 2")).expect("a block");
    let mut lines = Vec::new();
    clothwright::draw::extent::walk(&block.items, &mut |seen| {
        if let clothwright::draw::extent::Seen::Path { path, line: Some(Line::Cut), fill: Some(_) } = seen {
            use clothwright::draw::sheet::Shape;
            lines.push(path.bounding_box());
        }
    });
    // the bill points right in the artwork, to 224 of 240, and left on the block; the tail reaches to 36
    let left = lines[0].x0 - (block.width - prints.size.0) / 2.0;
    assert!((left / prints.size.0 - 16.0 / 240.0).abs() < 0.01, "{left}");
}

/// The result of a test strip moves the plan's limits.
#[test]
fn a_strip_teaches_the_plan() {
    use clothwright::measure::samples::Samples;
    use clothwright::measure::strip::Strip;
    use clothwright::units::{MM, Q};
    let outcome = worked("tern-bay-tee.toml", 0);
    let strip = Strip { line: Some(Q::new(1.7, &MM)), gap: Some(Q::new(2.3, &MM)), dot: Some(Q::new(2.0, &MM)) };
    let samples = Samples { strips: vec![strip; 3], ..Samples::default() };
    let learned = clothwright::outlook::learned::learned(&outcome.brief, &samples);
    let again = outcome.brief.with_measured(&learned.measured(), &[]).expect("settles");
    let before = outcome.prints().expect("a print").as_ref().expect("sound").line;
    let taught = clothwright::outlook::work_up(again, 0);
    let after = taught.prints().expect("a print").as_ref().expect("sound");
    assert!(before < 1.2 && after.line > 1.35 && after.line < 1.75, "{before} {}", after.line);
    assert!(after.gain > 0.18 && after.gap > after.line, "{}", after.gain);
}

/// Artwork that is too fine is told with the size at which it works, and at that size it passes.
#[test]
fn too_fine_artwork_is_told_and_the_size_mends_it() {
    let (text, mut files) = source("tern-bay-tee.toml");
    let hair = "<svg xmlns='http://www.w3.org/2000/svg' width='120' height='100'><path fill='#203040' d='M10 10H60V90H10Z'/>\
                <path d='M60 50H110' stroke='#203040' stroke-width='0.5'/></svg>";
    files.insert("files/tern.svg".to_string(), hair.as_bytes().to_vec());
    let text = with(&text, "width = \"24 cm\"", "width = \"12 cm\"");
    let outcome = outcome_of(&text, &files, 0);
    let verdict = outcome.verdicts.iter().find(|v| v.code == "line-too-fine").expect("told");
    assert!(verdict.message.contains("finest line"), "{}", verdict.message);
    let prints = outcome.prints().expect("a print").as_ref().expect("sound");
    let lost: Vec<_> = prints.places.iter().filter(|place| !place.is_tip && place.ink.is_some()).collect();
    assert!(!lost.is_empty() && (lost[0].width - 0.5).abs() < 0.12, "{lost:?}");
    let works = prints.works_at.expect("a size");
    assert!((200.0..300.0).contains(&works), "{works}");
    let larger = with(&text, "width = \"12 cm\"", &format!("width = \"{} mm\"", (works * 1.04).ceil()));
    let mended = outcome_of(&larger, &files, 0);
    assert!(mended.verdicts.iter().all(|v| v.code != "line-too-fine"));
}

/// Files that mean harm: each is refused in words that name what is wrong, and soon.
#[test]
fn hostile_artwork_is_refused_in_words_and_soon() {
    let svg = |inner: &str| {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='100' height='100'>{inner}</svg>"
        )
    };
    let doubling: String =
        (1..40).map(|n| format!("<g id='a{n}'><use href='#a{}'/><use href='#a{}'/></g>", n - 1, n - 1)).collect();
    let patterns: String = (1..20)
        .map(|n| {
            let inner: String =
                (0..10).map(|i| format!("<rect x='{i}' width='1' height='1' fill='url(#p{})'/>", n - 1)).collect();
            format!("<pattern id='p{n}' width='.1' height='.1'>{inner}</pattern>")
        })
        .collect();
    let deep = "<g>".repeat(5000) + &"</g>".repeat(5000);
    let coats = "<rect width='100' height='100' fill='#123'/>".repeat(20_000);
    let layers = "<g opacity='.99'><rect width='100' height='100'/></g>".repeat(5_000);
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("script", svg("<script>alert(1)</script><rect width='9' height='9'/>").into(), "a script"),
        ("event", svg("<rect width='9' height='9' onload='x()'/>").into(), "a script"),
        ("page", svg("<foreignObject><p/></foreignObject>").into(), "web page"),
        ("picture of a file", svg("<image href='/etc/passwd' width='9' height='9'/>").into(), "outside itself"),
        ("picture of the net", svg("<image xlink:href='http://127.0.0.1:9/a.png' width='9' height='9'/>").into(), "outside itself"),
        ("shape of a file", svg("<use href='other.svg#a'/>").into(), "outside itself"),
        ("style of a file", svg("<style>@import 'a.css';</style>").into(), "another file"),
        ("colour of a file", svg("<rect width='9' height='9' fill='url(a.svg#b)'/>").into(), "another file"),
        ("entities", b"<!DOCTYPE svg [<!ENTITY a 'aaaa'>]><svg xmlns='http://www.w3.org/2000/svg'>&a;</svg>".to_vec(), "entities"),
        ("doubling", svg(&format!("<g id='a0'><rect width='9' height='9'/></g>{doubling}<use href='#a39'/>")).into(), "200000 shapes"),
        ("patterns", svg(&format!("<pattern id='p0' width='1' height='1'><rect width='1' height='1'/></pattern>{patterns}<rect width='99' height='99' fill='url(#p19)'/>")).into(), "200000 shapes"),
        ("depth", svg(&deep).into(), "nested"),
        ("dashes", svg("<path d='M0 0H1000000' stroke='#000' stroke-dasharray='0.0001'/>").into(), "dashes"),
        ("noise", svg("<filter id='f'><feTurbulence numOctaves='999'/></filter><rect width='9' height='9' filter='url(#f)'/>").into(), "noise"),
        ("no number", b"<svg xmlns='http://www.w3.org/2000/svg' width='NaN' height='10'><rect width='9' height='9'/></svg>".to_vec(), "no size"),
        ("endless", b"<svg xmlns='http://www.w3.org/2000/svg' width='inf' height='10'/>".to_vec(), "no size"),
        ("below nothing", b"<svg xmlns='http://www.w3.org/2000/svg' width='-5' height='10'/>".to_vec(), "no size"),
        ("no SVG", b"<svg xmlns='http://www.w3.org/2000/svg'><rect".to_vec(), "cannot be read"),
        ("nothing", Vec::new(), "neither"),
        ("bytes", vec![0xff, 0x00, 0x80, 0x7f], "neither"),
        ("slender", b"<svg xmlns='http://www.w3.org/2000/svg' width='10000' height='10'><rect width='9' height='9'/></svg>".to_vec(), "as high as"),
        ("boasting PNG", png_that_boasts(60_000, 60_000), "PNG"),
        ("cut PNG", png_whole()[..400].to_vec(), "PNG"),
    ];
    for (name, bytes, says) in cases {
        let begun = Instant::now();
        let why = Artwork::read(&bytes).map(|a| format!("{a:?}")).expect_err(name).to_string();
        assert!(why.contains(says), "{name}: {why}");
        assert!(begun.elapsed() < Duration::from_secs(3), "{name}: {:?}", begun.elapsed());
    }
    // these are only known when they are painted
    for (name, bytes) in [("coats", svg(&coats)), ("layers", svg(&layers))] {
        let begun = Instant::now();
        let why =
            Artwork::read(bytes.as_bytes()).and_then(|a| a.picture(1000, 1000).map(drop)).expect_err(name).to_string();
        assert!(why.contains("hundreds of times"), "{name}: {why}");
        assert!(begun.elapsed() < Duration::from_secs(5), "{name}: {:?}", begun.elapsed());
    }
    // an empty picture is sound, and there is nothing to print in it
    let (text, mut files) = source("tern-bay-tee.toml");
    files.insert("files/tern.svg".to_string(), svg("").into_bytes());
    let plan = crate::scene::plan_of(&text, &files);
    let found = clothwright::chain::decide::decide(&plan).map(drop).expect_err("nothing to print");
    assert!(
        found.iter().any(|d| d.code == "bad-artwork" && d.message.contains("empty") && d.span.is_some()),
        "{found:?}"
    );
}

fn png_whole() -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, 60, 60);
    encoder.set_color(png::ColorType::Rgba);
    let noise: Vec<u8> = (0..60 * 60 * 4u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    encoder.write_header().expect("a header").write_image_data(&noise).expect("pixels");
    out
}

/// A PNG whose header is sound and says a size that no memory holds.
fn png_that_boasts(width: u32, height: u32) -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, width, height);
    encoder.set_color(png::ColorType::Rgba);
    // the header is written; the pixels never come
    drop(encoder.write_header());
    out
}

/// Every kind of picture that a plan may ask for comes out of noise and of shades without a panic.
#[test]
fn noise_and_shades_are_printed_too() {
    let (text, mut files) = source("tern-bay-tee.toml");
    files.insert("files/tern.svg".to_string(), png_whole());
    // small, so that it takes seconds
    let text = with(&text, "width = \"24 cm\"", "width = \"8 cm\"");
    let inks = text.find("[[print.ink]]").expect("inks");
    let end = text.find("[season]").expect("a season");
    let free = format!("{}{}", &text[..inks], &text[end..]);
    for keys in [
        "tone = \"ellipses\"\nseparate = 3",
        "tone = \"scattered\"\nunderbase = true",
        "separate = 4\nunderbase = true",
    ] {
        let text = with(&free, "method = \"screen\"", &format!("method = \"screen\"\n{keys}"));
        let outcome = outcome_of(&text, &files, 0);
        let prints = outcome.prints().expect("a print").as_ref().unwrap_or_else(|why| panic!("{keys}: {why}"));
        assert!(!prints.inks().is_empty(), "{keys}");
        if keys.contains("underbase") {
            assert!(prints.inks()[0].opaque && prints.inks()[0].rgb == [255; 3], "{keys}");
        }
    }
    for method in ["stencil", "block"] {
        let text = with(&free, "method = \"screen\"", &format!("method = \"{method}\""));
        let outcome = outcome_of(&text, &files, 0);
        // noise may be refused as a stencil, in words
        if let Err(why) = of_plan::sheets(&outcome, "film") {
            assert!(why.contains("loose islands"), "{method}: {why}");
        }
    }
}
