//! A film of 30 by 40 cm at 1200 dots an inch, from its plate to the PDF, flat and in dots. Goal: 5 s, a file under 60 MB.

use clothwright::draw::film::{self, Bits, Film};
use clothwright::draw::sheets::film::{Words, laid};
use clothwright::print::artwork::Artwork;
use clothwright::print::dots::{Form, Tone};
use clothwright::print::separate::{Wanted, Way, separate};
use clothwright::units::show::Style;

fn main() {
    divan::main();
}

/// Shapes and shades over the whole picture.
const ARTWORK: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='300' height='400'><defs><linearGradient id='g'><stop \
                       stop-color='#fff'/><stop offset='1' stop-color='#102040'/></linearGradient></defs><rect width='300' height='400' \
                       fill='url(#g)'/><circle cx='150' cy='200' r='120' fill='#102040'/><path d='M20 380Q150 200 280 380Z' fill='#fff'/></svg>";

/// Most squares of a plate, as for a plan's films.
const SQUARES: f64 = 20e6;

fn made(tone: Tone) -> usize {
    let pixel = (300.0 * 400.0 / SQUARES).sqrt();
    let across = |mm: f64| (mm / pixel).round() as usize;
    let picture =
        Artwork::read(ARTWORK.as_bytes()).and_then(|a| a.picture(across(300.0), across(400.0))).expect("sound");
    let way = Way { wanted: Wanted::Number(1), tone: tone != Tone::Solid, trap: 0.0, underbase: None };
    let parted = separate(&picture, &way).expect("parted");
    drop(picture);
    let pixel = 300.0 / parted.plates[0].width as f64;
    let words = Words {
        title: "A film to time",
        ink: "blue",
        number: 1,
        of: 1,
        size: (300.0, 400.0),
        sized: "",
        mesh: None,
        tone,
        style: Style::Metric,
    };
    let sheet = laid(&words);
    let bits = vec![Bits { plate: &parted.plates[0], pixel, tone, at: sheet.picture }];
    let bytes = film::pdf(&[Film { sheet: sheet.sheet, bits, dpi: 1200.0 }], None).expect("a film").len();
    assert!(bytes < 60_000_000, "{bytes} bytes");
    bytes
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn flat() -> usize {
    made(Tone::Solid)
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn dots() -> usize {
    made(Tone::Rows { ruling: 1.4, angle: 22.5, form: Form::Round })
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn scattered() -> usize {
    made(Tone::Scattered { grain: 0.1 })
}
