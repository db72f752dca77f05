//! The picture of the cloth: that it shows what is woven, at the size it says, and is the same picture every time.
#![expect(clippy::disallowed_methods, reason = "a picture is measured with the standard library")]

use clothwright::draw::picture::{
    ClothLook, Ground, Hand, Pixels, Press, Side, View, YarnLook, against_the_light, cloth,
};
use clothwright::weave::{Colour, ColourOrder, Weave, colour::NATURAL};

/// A cotton cloth, natural both ways.
pub fn look(weave: &str, diameter: f64, per_cm: f64) -> ClothLook {
    let yarn = YarnLook::cotton(diameter, 550.0, Hand::Z);
    ClothLook {
        warp: yarn.clone(),
        weft: yarn,
        end_spacing: 10.0 / per_cm,
        pick_spacing: 10.0 / per_cm,
        warp_height: diameter,
        weft_height: diameter,
        drawdown: Weave::parse(weave).unwrap().repeat(),
        colours: vec![NATURAL],
        warp_order: ColourOrder::plain(0),
        weft_order: ColourOrder::plain(0),
        straying: 0.05,
        seed: 11,
    }
}

/// Smooth, even, straight yarn: what is left is geometry.
fn bare(mut look: ClothLook) -> ClothLook {
    for yarn in [&mut look.warp, &mut look.weft] {
        (yarn.hairs, yarn.unevenness) = (0.0, 0.0);
    }
    look.straying = 0.0;
    look
}

fn brightness(pixels: &Pixels, x: f64, y: f64) -> u32 {
    let at = (y as usize * pixels.width + x as usize) * 4;
    pixels.rgba[at..at + 3].iter().map(|&b| u32::from(b)).sum()
}

#[test]
fn the_same_bytes_for_any_number_of_workers() {
    let look = look("twill 2/1", 0.3, 14.0);
    let view = View::of_ends(&look, 9.0, 210, 190);
    let with = |workers| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(workers).build().unwrap();
        pool.install(|| (cloth(&look, &view).unwrap(), against_the_light(&look, &view).unwrap().pixels))
    };
    let one = with(1);
    assert!(one == with(2) && one == with(3));
    let other = ClothLook { seed: 12, ..look.clone() };
    assert!(cloth(&other, &view).unwrap() != one.0, "another seed is another cloth");
}

/// Warp dark, weft light: which of the two is seen at each crossing is the drawdown, first end left, first pick at the bottom; and
/// from the back it is the other one, left and right exchanged.
#[test]
fn the_weave_is_the_one_that_is_drawn() {
    for weave in ["plain", "twill 3/1", "twill 2/2 S", "satin 5/2", "rib 2/2"] {
        let mut look = bare(look(weave, 0.4, 18.0));
        look.colours = vec![[20, 20, 20], [240, 240, 240]];
        look.weft_order = ColourOrder::plain(1);
        let size = 240;
        let mut view = View::of_ends(&look, 12.0, size, size);
        for side in [Side::Face, Side::Back] {
            view.side = side;
            let pixels = cloth(&look, &view).unwrap();
            let step = size as f64 / 12.0;
            for (end, pick) in (0..12).flat_map(|e| (0..12).map(move |k| (e, k))) {
                let seen = brightness(&pixels, (end as f64 + 0.5) * step, size as f64 - (pick as f64 + 0.5) * step);
                let block = if side == Side::Face { look.drawdown.clone() } else { look.drawdown.turned() };
                assert_eq!(seen < 400, block.warp_up(end, pick), "{weave} {side:?} {end} {pick}: {seen}");
            }
        }
    }
}

/// The area between the yarns, counted on the picture, against (1 − d1/p1)(1 − d2/p2), within 2 points.
#[test]
fn open_area_agrees_with_the_formula() {
    for (diameter, per_cm, weave) in
        [(0.27, 15.2, "plain"), (0.27, 8.0, "plain"), (0.4, 20.0, "twill 2/2"), (0.6, 6.0, "plain")]
    {
        let mut look = look(weave, diameter, per_cm);
        look.weft.diameter *= 0.8;
        let view = View::of_ends(&look, 60.0, 420, 420);
        let open = against_the_light(&look, &view).unwrap().open;
        assert!((open - look.open_area()).abs() < 0.02, "{diameter} at {per_cm}: {open} against {}", look.open_area());
        let clear = cloth(&look, &View { ground: Ground::Clear, ..view }).unwrap();
        let solid = clear.rgba.chunks(4).map(|p| f64::from(p[3])).sum::<f64>() / (255.0 * 420.0 * 420.0);
        // The clear picture shows the hairs too.
        assert!(1.0 - solid < open + 0.005 && 1.0 - solid > open - 0.12, "{solid} {open}");
    }
}

/// Light and dark on a lone straight yarn lie along its fibres: the mean direction of the picture's edges gives the hand and the
/// angle of the twist, on a warp that runs down the picture and a weft that runs across it.
#[test]
fn twist_is_seen_with_its_hand_and_angle() {
    for (hand, sign) in [(Hand::Z, 1.0), (Hand::S, -1.0)] {
        for turns in [200.0, 400.0] {
            let mut look = bare(look("plain", 0.8, 14.0));
            (look.end_spacing, look.pick_spacing) = (20.0, 20.0);
            for yarn in [&mut look.warp, &mut look.weft] {
                (yarn.hand, yarn.twist) = (hand, turns);
            }
            let angle = std::f64::consts::PI * 0.8e-3 * turns;
            let want = angle.atan().to_degrees();
            // Measured from the yarn's axis, positive where the fibre leans as the middle of a Z does; the mean of some cloths,
            // because a few millimetres of yarn show a few fibres.
            let (mut warp, mut weft) = (0.0, 0.0);
            for seed in 1..=4 {
                look.seed = seed;
                // One end at 10 mm across and one pick at 10 mm down.
                let view = View { width: 680, height: 680, pixel: 0.02, side: Side::Face, ground: Ground::Table };
                let pixels = cloth(&look, &view).unwrap();
                warp += lean(&pixels, (493, 507), (40, 450), true) / 4.0;
                weft += lean(&pixels, (40, 450), (493, 507), false) / 4.0;
            }
            for (got, which) in [(warp, "warp"), (weft, "weft")] {
                assert!((sign * got - want).abs() < 7.0, "{which} {hand:?} {turns}: {got:.1} against {want:.1}");
            }
        }
    }
}

/// Mean lean of the texture within columns and rows, in degrees from the axis of a yarn that runs down or across.
fn lean(pixels: &Pixels, columns: (usize, usize), rows: (usize, usize), down: bool) -> f64 {
    let light = |x: usize, y: usize| f64::from(brightness(pixels, x as f64, y as f64));
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for y in rows.0..rows.1 {
        for x in columns.0..columns.1 {
            let (gx, gy) = (light(x + 1, y) - light(x - 1, y), light(x, y + 1) - light(x, y - 1));
            (xx, yy, xy) = (xx + gx * gx, yy + gy * gy, xy + gx * gy);
        }
    }
    // The gradient's direction; the texture lies square to it.
    let gradient = 0.5 * (2.0 * xy).atan2(xx - yy);
    let along = gradient.to_degrees() + 90.0;
    // y grows downward: a Z fibre on an upright yarn goes up to the right, on a lying one down to the right.
    let lean = if down { along + 90.0 } else { along };
    (lean + 90.0).rem_euclid(180.0) - 90.0
}

#[test]
fn a_true_size_picture_says_its_size() {
    let look = look("plain", 0.6, 8.0);
    let view = View::true_size(12.7, 200.0);
    assert_eq!((view.width, view.height), (100, 100));
    let png = cloth(&look, &view).unwrap().png(Press::Small, Some(view.pixel));
    let reader = png::Decoder::new(std::io::Cursor::new(&png)).read_info().unwrap();
    let dims = reader.info().pixel_dims.unwrap();
    assert_eq!((dims.xppu, dims.yppu), (7874, 7874), "200 dots an inch");
    assert_eq!(reader.info().size(), (100, 100));
}

#[test]
fn checks_show_both_orders() {
    let mut look = bare(look("plain", 0.5, 16.0));
    let mut colours = vec![Colour { name: "natural".into(), rgb: NATURAL }];
    look.warp_order = ColourOrder::parse("2 natural 2 indigo", &mut colours).unwrap();
    look.weft_order = ColourOrder::parse("4 natural 4 indigo", &mut colours).unwrap();
    look.colours = colours.iter().map(|c| c.rgb).collect();
    let pixels = cloth(&look, &View::of_ends(&look, 8.0, 160, 160)).unwrap();
    // End 0 natural and up on pick 0; end 3 indigo; end 1 goes under the natural pick 0 and the indigo pick 4.
    let at = |end: f64, pick: f64| brightness(&pixels, (end + 0.5) * 20.0, 160.0 - (pick + 0.5) * 20.0);
    assert!(at(0.0, 0.0) > 500 && at(2.0, 0.0) < 400 && at(1.0, 0.0) > 500 && at(1.0, 4.0) < 400);
}

#[test]
fn impossible_looks_and_views_are_refused() {
    let good = look("plain", 0.3, 14.0);
    let view = View::of_ends(&good, 8.0, 64, 64);
    for spoil in [
        |l: &mut ClothLook| l.warp.diameter = f64::NAN,
        |l: &mut ClothLook| l.weft.diameter = 0.0,
        |l: &mut ClothLook| l.end_spacing = f64::INFINITY,
        |l: &mut ClothLook| l.warp.plies = 0,
        |l: &mut ClothLook| l.weft_height = -1.0,
        |l: &mut ClothLook| l.straying = 7.0,
        |l: &mut ClothLook| l.colours.clear(),
    ] {
        let mut bad = good.clone();
        spoil(&mut bad);
        assert!(cloth(&bad, &view).is_err());
    }
    for bad in [
        View { width: 0, ..view },
        View { width: usize::MAX, height: usize::MAX, ..view },
        View { pixel: 0.0, ..view },
        View { pixel: f64::NAN, ..view },
        View { pixel: 100.0, ..view },
        View { pixel: 1e-9, ..view },
    ] {
        assert!(cloth(&good, &bad).is_err(), "{bad:?}");
    }
}

/// Corners of what may be asked: each gives a picture, in bounded time and without a number that is none.
#[test]
fn extremes_give_pictures() {
    let mut looks = Vec::new();
    for (diameter, per_cm) in [(0.01, 300.0), (20.0, 0.3), (0.5, 40.0), (0.05, 1.0)] {
        looks.push(look("plain", diameter, per_cm));
    }
    let mut plied = look("plain", 0.4, 15.0);
    (plied.warp.plies, plied.warp.ply_twist, plied.weft.plies, plied.weft.flatten) = (2, 370.0, 6, 0.4);
    looks.push(plied);
    let mut wild = look("satin 8/3", 0.4, 15.0);
    (wild.warp.unevenness, wild.straying, wild.warp.hairs) = (0.5, 0.3, 30.0);
    looks.push(wild);
    for look in looks {
        for ends in [0.7, 20.0, 60.0] {
            let view = View::of_ends(&look, ends, 80, 50);
            let pixels = match cloth(&look, &view) {
                Ok(pixels) => pixels,
                Err(why) => {
                    assert!(why.0.contains("cannot show yarn") && ends > 10.0, "{why}");
                    continue;
                }
            };
            assert!(pixels.rgba.chunks(4).all(|p| p[3] == 255));
            let open = against_the_light(&look, &view).unwrap().open;
            assert!((0.0..=1.0).contains(&open), "{open}");
        }
    }
}

/// Only the same as last time: small pictures kept in `tests/it/pictures`. A new look is written beside the old one's name into
/// the target folder, to be looked at and put in its place.
#[test]
fn regress_pictures() {
    let plain = look("plain", 0.3, 12.0);
    let mut check = look("twill 2/2", 0.34, 17.0);
    let mut colours = vec![Colour { name: "natural".into(), rgb: NATURAL }];
    check.warp_order = ColourOrder::parse("6 natural 2 madder", &mut colours).unwrap();
    check.weft_order = ColourOrder::parse("6 natural 2 indigo", &mut colours).unwrap();
    check.colours = colours.iter().map(|c| c.rgb).collect();
    let mut plied = look("plain", 0.5, 9.0);
    for yarn in [&mut plied.warp, &mut plied.weft] {
        (yarn.plies, yarn.ply_twist) = (2, 380.0);
    }
    let view = |look: &ClothLook, ends: f64| View::of_ends(look, ends, 128, 96);
    let mut changed = Vec::new();
    for (name, pixels) in [
        ("plain-face", cloth(&plain, &view(&plain, 6.0)).unwrap()),
        ("check-back", cloth(&check, &view(&check, 16.0).back()).unwrap()),
        ("plied", cloth(&plied, &View { ground: Ground::Clear, ..view(&plied, 4.0) }).unwrap()),
        ("window", against_the_light(&plain, &view(&plain, 8.0)).unwrap().pixels),
    ] {
        let png = pixels.png(Press::Small, None);
        let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/it/pictures/{name}.png"));
        if read_rgba(&kept).as_deref() != Some(&pixels.rgba[..]) {
            let new = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.png"));
            write_file(&new, &png);
            changed.push(new);
        }
    }
    assert!(changed.is_empty(), "not as they were; look at {changed:?}");
}

#[expect(clippy::disallowed_methods, reason = "a test reads the pictures it keeps")]
fn read_rgba(path: &std::path::Path) -> Option<Vec<u8>> {
    let bytes = std::fs::read(path).ok()?;
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().ok()?;
    let mut rgba = vec![0; reader.output_buffer_size()?];
    reader.next_frame(&mut rgba).ok()?;
    Some(rgba)
}

#[expect(clippy::disallowed_methods, reason = "a test leaves what differs to be looked at")]
fn write_file(path: &std::path::Path, bytes: &[u8]) {
    std::fs::write(path, bytes).unwrap();
}
