//! A top: what the shaped and the straight cut share. Front and back lie with the side neck points at y = 0 and the centre
//! at x = 0; x grows towards the right of the sheet, y towards the hem. Millimetres. Knows no cloth width.

pub(super) mod fits;
pub(super) mod neck;
pub(super) mod pictures;
pub(super) mod shaped;
pub(super) mod sleeve;
pub(super) mod straight;

use super::figure::Figure;
use super::make::{Making, mm};
use super::piece::PrintPlace;
use super::rules;
use crate::trade::body::Part;
use kurbo::{Point, Rect};

/// The body of a top, both cuts.
#[derive(Clone, Debug)]
pub(super) struct Torso {
    /// Half the width of front or back.
    pub quarter: f64,
    /// Half the breadth of the shoulders.
    pub shoulder: f64,
    /// End of the shoulder seam.
    pub tip: Point,
    /// Fall of the shoulder seam for one of run.
    pub slope: f64,
    /// Level of the hem.
    pub hem: f64,
    /// Nape to hem.
    pub length: f64,
    /// Whether the hem comes below the seat.
    pub over_hip: bool,
}

/// Reads the body and settles width and length; `None` when a fault was found.
pub(super) fn torso(making: &mut Making, figure: &Figure, sloped: bool) -> Option<Torso> {
    let length = length(making, figure)?;
    // The seat lies about 200 mm below the waist; where the hem ends above it the hip does not matter.
    let over_hip = length > figure.get(Part::BackWaist) + 0.75 * rules::BELOW_WAIST;
    let quarter = width(making, figure, over_hip)?;
    let shoulder = 0.5 * figure.get(Part::ShoulderBreadth);
    let slope = if sloped { rules::SHOULDER_SLOPE } else { 0.0 };
    let across = if sloped { shoulder + (0.5 * (quarter - shoulder)).clamp(10.0, 60.0) } else { quarter };
    Some(Torso {
        quarter,
        shoulder,
        tip: Point::new(across, 0.0),
        slope,
        hem: length + rules::NAPE_DROP,
        length,
        over_hip,
    })
}

fn length(making: &mut Making, figure: &Figure) -> Option<f64> {
    let usual = figure.get(Part::BackWaist) + rules::BELOW_WAIST;
    let length = mm(making.wish.length).unwrap_or_else(|| {
        let text = format!("{} from nape to hem: back neck to waist and 20 cm more", making.say.length(usual));
        making.because("garment.length", text);
        usual
    });
    let most = 1.02 * figure.get(Part::NapeHeight);
    if !(250.0..=most).contains(&length) {
        let text = format!(
            "a top {:.1} cm long from nape to hem cannot be drafted for this body: 25 to {:.0} cm can",
            length / 10.0,
            most / 10.0
        );
        making.fault("bad-length", &["garment.length"], text);
        return None;
    }
    Some(length)
}

/// Half the width of front or back: the greatest of what chest, hip and shoulders ask for.
fn width(making: &mut Making, figure: &Figure, over_hip: bool) -> Option<f64> {
    let ease = making.wish.ease;
    let chest_ease = mm(ease.chest).unwrap_or(rules::CHEST_EASE);
    let hip_ease = mm(ease.hip).unwrap_or(rules::HIP_EASE);
    for (key, ease) in [("garment.ease.chest", chest_ease), ("garment.ease.hip", hip_ease)] {
        if !(0.0..=800.0).contains(&ease) {
            let text = format!(
                "an ease of {:.1} cm cannot be worn in cloth that does not stretch: 0 to 80 cm can",
                ease / 10.0
            );
            making.fault("bad-ease", &[key], text);
            return None;
        }
    }
    let (chest, hip) = (figure.get(Part::Chest) + chest_ease, figure.get(Part::Hip) + hip_ease);
    let shoulders = 2.0 * (figure.get(Part::ShoulderBreadth) + rules::SHOULDERS_PASS);
    let hip = if over_hip { hip } else { 0.0 };
    let girth = chest.max(hip).max(shoulders);
    let say = making.say;
    let rule = if girth == chest {
        format!("chest {} and {} of ease", say.length(figure.get(Part::Chest)), say.length(chest_ease))
    } else if girth == hip {
        format!(
            "hip {} and {} of ease, more than the chest asks for",
            say.length(figure.get(Part::Hip)),
            say.length(hip_ease)
        )
    } else {
        format!("the shoulders, {} broad, have to pass", say.length(figure.get(Part::ShoulderBreadth)))
    };
    making.because("garment.ease.chest", format!("{} round the body: {rule}", say.length(girth)));
    Some(0.25 * girth)
}

/// Where the print of the wish lies on the front or back, if it is there.
pub(super) fn print(making: &mut Making, piece: &str, neck_depth: f64, slit: f64) -> Option<PrintPlace> {
    let wish = making.wish.print.as_ref().filter(|p| p.piece == piece)?;
    let (width, height) = (mm(Some(wish.width))?, mm(Some(wish.height))?);
    let below = mm(wish.below).unwrap_or(if slit > 0.0 { slit + 40.0 } else { 80.0 });
    let top = neck_depth + below;
    let aside = wish.aside();
    let area = Rect::new(aside - 0.5 * width, top, aside + 0.5 * width, top + height);
    if !(area.is_finite() && width > 0.0 && height > 0.0) {
        making.fault("bad-print", &["print.width"], "the print needs a width and a height above nought");
        return None;
    }
    if wish.below.is_none() {
        let text = format!("the print starts {} below the neck edge", making.say.length(below));
        making.because("print.place.below_neck", text);
    }
    Some(PrintPlace { area, below, clear: 0.0 })
}
