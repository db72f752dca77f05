//! The cloth held up to a window: how much light comes through the gaps, and how the yarn glows where it is thin. The open area
//! is counted on the picture itself, as a check on the formula that plans it.

use super::band::Showing;
use super::light::Shade;
use super::scene::Plane;
use super::{ClothLook, Pixels, Unseen, View};

/// What is seen against the light.
pub struct Window {
    pub pixels: Pixels,
    /// Share of the picture that no yarn covers; hairs are not counted.
    pub open: f64,
}

/// The cloth against a bright sky.
pub fn against_the_light(look: &ClothLook, view: &View) -> Result<Window, Unseen> {
    let showing = Showing::new(look, view, Plane::Gap)?;
    let mut pixels = Pixels::new(view.width, view.height, [0, 0, 0, 255])?;
    pixels.rgba.clear();
    let open = showing.paint(
        |ink, place, (around, _)| {
            let sky = sky(place);
            let bare = 1.0 - ink.cover;
            // Light goes round fibres more than through them: it falls off slower than in glass, and red reaches farther.
            let through = [5.0, 6.6, 9.5].map(|deep| 1.0 / (1.0 + deep * ink.thick));
            let warm = [0.34, 0.26, 0.16];
            let one = |i: usize| sky[i] * (bare + (0.92 * through[i] + warm[i] * around) * ink.soft[i] + 0.04 * around);
            [one(0), one(1), one(2), 1.0]
        },
        |_| vec![1.0; view.width / 8 + 3],
        Shade::glow,
        &mut |band| pixels.rgba.extend_from_slice(band),
    );
    Ok(Window { pixels, open })
}

/// Brightness of the sky behind a place of the picture: a soft patch of light, paler towards the ground.
fn sky((x, y): (f32, f32)) -> [f32; 3] {
    let (dx, dy) = (x - 0.36, y - 0.30);
    let bright = 1.12 - 0.34 * (dx * dx + 0.9 * dy * dy);
    [bright * (0.90 + 0.10 * y), bright * (0.965 + 0.02 * y), bright * (1.04 - 0.10 * y)]
}
