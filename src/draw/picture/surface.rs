//! The skin of one yarn at one point: which way it faces, its fibres, how much of the light from each side it gives back.

use super::chance::Grain;
use super::strands::{Strand, System};

/// What light does at a point of a yarn. Colours are linear.
#[derive(Clone, Copy, Debug, Default)]
pub struct Hit {
    pub colour: [f32; 3],
    /// Share of the lamp's light given back, were it not in shade.
    pub key: f32,
    /// Share of the light from all round.
    pub sky: f32,
    /// Shine, white.
    pub sheen: f32,
}

/// The lamp: a large soft light from above left. Unit vector to it (x right, y down, z up).
pub const LAMP: [f32; 3] = [-0.5225, -0.4851, 0.7012];
/// Halfway between the lamp and the eye straight above.
const HALF: [f32; 3] = [-0.2833, -0.2630, 0.9223];

/// Bundles of fibres to be seen round a yarn, coarse and fine, and the single fibres of a close look.
const BUNDLES: [f32; 3] = [13.0, 31.0, 83.0];

/// What a picture knows of fibres.
pub struct Skin {
    grain: Grain,
    /// Millimetres a pixel.
    pixel: f32,
}

impl Skin {
    pub fn new(seed: u32, pixel: f32) -> Self {
        Skin { grain: Grain::new(seed), pixel }
    }

    /// The skin of `strand` at `off` mm beside its middle. `down`: the thread runs down the picture.
    #[inline]
    pub fn hit(&self, system: &System, strand: &Strand, off: f32, down: bool) -> Hit {
        let u = (off / strand.half).clamp(-1.0, 1.0);
        let arch = (1.0 - u * u).sqrt();
        let fibres = self.fibres(system, strand, u, arch);
        let (mut side, mut up) = (u, arch);
        if system.flatten < 1.0 {
            side *= system.flatten;
            let scale = 1.0 / (side * side + up * up).sqrt().max(1e-6);
            (side, up) = (side * scale, up * scale);
        }
        // Bundles stand out a little: the skin turns towards the next groove.
        let normal = frame(side, -strand.sin * up, strand.cos * up, down);
        let (fc, fs) = system.fibre;
        let twist = -system.sense * (fs + 0.22 * fibres * fc);
        let tangent = frame(
            twist * up,
            fc * strand.cos + twist * side * strand.sin,
            fc * strand.sin - twist * side * strand.cos,
            down,
        );
        let facing = dot(normal, LAMP);
        let across = dot(tangent, HALF);
        let gloss = (1.0 - across * across).max(0.0);
        let gloss = gloss * gloss * gloss;
        let gloss = gloss * gloss * gloss;
        let lit = ((facing + 0.14) / 1.14).max(0.0);
        let rim = 1.0 - normal[2].max(0.0);
        let deep = 1.0 + 0.34 * fibres;
        let tint = 1.0 + 0.08 * fibres;
        let colour = system.colours[strand.thread as usize];
        Hit {
            colour: [colour[0] * tint, colour[1] * tint, colour[2] * tint],
            key: lit * deep,
            sky: (0.62 + 0.38 * normal[2] + 0.16 * rim * rim) * (1.0 + 0.24 * fibres),
            sheen: system.lustre * gloss * lit * (1.0 + 0.8 * fibres).max(0.0),
        }
    }

    /// Light and dark of the fibres, about -1 to 1.
    #[inline]
    fn fibres(&self, system: &System, strand: &Strand, u: f32, arch: f32) -> f32 {
        // Angle round the yarn in turns; the fifth power stands for the arc sine near the edge.
        let u2 = u * u;
        let round = u * (1.0 + 0.5708 * u2 * u2) * (1.0 / std::f32::consts::TAU);
        let place = round + system.sense * strand.turn;
        let along = strand.turn * 0.9 + (strand.thread & 63) as f32 * 5.3;
        let wide = |bundles: f32| (std::f32::consts::TAU * strand.half / (bundles * self.pixel) - 0.7).clamp(0.0, 1.0);
        let coarse = self.grain.at(place * BUNDLES[0], along) * wide(BUNDLES[0]);
        let fade = wide(BUNDLES[1]) * (0.35 + 0.65 * arch);
        if fade <= 0.02 {
            return coarse * 0.7;
        }
        // Single fibres show as thin bright lines where the grain passes through its middle.
        let fine = self.grain.at(place * BUNDLES[1] + coarse * 1.5, along * 2.3 + 91.0);
        let bundles = coarse * 0.5 + (0.36 - 2.3 * fine * fine) * fade;
        let close = (std::f32::consts::TAU * strand.half / (BUNDLES[2] * self.pixel) - 2.0).clamp(0.0, 1.0);
        if close <= 0.02 {
            return bundles;
        }
        let single = self.grain.at(place * BUNDLES[2] + fine * 2.0, along * 3.1 + 17.0);
        bundles * (1.0 - 0.25 * close) + (0.30 - 2.0 * single * single) * close * 0.55
    }
}

/// From (across, along, up) of a thread to (x, y, z) of the picture.
#[inline]
fn frame(across: f32, along: f32, up: f32, down: bool) -> [f32; 3] {
    if down { [across, along, up] } else { [along, across, up] }
}

#[inline]
fn dot(a: [f32; 3], b: [f32; 3]) -> f32 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
