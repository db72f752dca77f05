//! The cloth before it is woven, in pixels: yarns as lit, twisted, slightly uneven cylinders that follow the solved crimp paths,
//! seen from either side, on a table or against a window.
//!
//! A picture is made in bands of rows, each from numbers that depend on the seed and the place only, so that it is the same
//! bytes however many workers make it, and takes little more memory than its own pixels. Knows no plan and no formula of the
//! chain; [`ClothLook`] says in millimetres all that is to be seen.

mod band;
mod chance;
mod coat;
mod hairs;
mod light;
mod look;
mod pixels;
mod scene;
mod strands;
mod surface;
mod tone;
mod view;
mod window;

pub use band::{cloth, cloth_png, printed};
pub use coat::{Coat, Layer};
pub use look::{ClothLook, Hand, Path, Unseen, YarnLook};
pub use pixels::{MOST_PIXELS, Pixels, Press};
pub use view::{Ground, Side, View};
pub use window::{Window, against_the_light};
