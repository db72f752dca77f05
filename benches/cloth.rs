//! The picture of the cloth at the size of a screen, and the light picture. Goal: 1600 x 1600 in 150 ms on two cores, PNG included.

use clothwright::draw::picture::{ClothLook, Hand, Press, View, YarnLook, against_the_light, cloth_png};
use clothwright::weave::{ColourOrder, Weave, colour::NATURAL};

fn main() {
    divan::main();
}

/// A hand-spun cotton in a plain cloth, or another weave a little closer.
fn look(weave: &str, per_cm: f64) -> ClothLook {
    let yarn = YarnLook::cotton(0.27, 550.0, Hand::Z);
    ClothLook {
        warp: yarn.clone(),
        weft: yarn,
        end_spacing: 10.0 / per_cm,
        pick_spacing: 10.0 / per_cm,
        warp_height: 0.27,
        weft_height: 0.27,
        drawdown: Weave::parse(weave).expect("a known weave").repeat(),
        colours: vec![NATURAL],
        warp_order: ColourOrder::plain(0),
        weft_order: ColourOrder::plain(0),
        straying: 0.05,
        seed: 1,
    }
}

#[divan::bench(args = [("plain", 15.2), ("twill 2/2", 20.0)])]
fn screen(bencher: divan::Bencher, (weave, per_cm): (&str, f64)) {
    let look = look(weave, per_cm);
    let view = View::of_ends(&look, 30.0, 1600, 1600);
    bencher.bench(|| cloth_png(&look, &view, Press::Fast, false).expect("in range").len());
}

#[divan::bench]
fn true_size(bencher: divan::Bencher) {
    let look = look("plain", 15.2);
    let view = View::true_size(50.0, 600.0);
    bencher.bench(|| cloth_png(&look, &view, Press::Fast, true).expect("in range").len());
}

#[divan::bench]
fn window(bencher: divan::Bencher) {
    let look = look("plain", 15.2);
    let view = View::of_ends(&look, 30.0, 1600, 1600);
    bencher.bench(|| against_the_light(&look, &view).expect("in range").pixels.png(Press::Fast, None).len());
}
