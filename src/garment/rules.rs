//! The cutter's rules of thumb, each once, with who says so. Millimetres. A word in code style after a rule is the source's key
//! in `sources.toml`; the rest is common practice without a printed source and said to be so in the outcome.

/// Chest ease of a loose woven top without an opening: 100 to 200 mm is usual.
pub const CHEST_EASE: f64 = 140.0;
/// Least chest ease of a woven top that is pulled over the head.
pub const CHEST_EASE_LEAST: f64 = 100.0;
/// Hip ease (`cwu-costume`: 2 to 2.75 in).
pub const HIP_EASE: f64 = 60.0;
/// Least hip ease (`cwu-costume`: 2 in).
pub const HIP_EASE_LEAST: f64 = 50.0;
/// Ease round the upper arm of a loose sleeve: 50 to 100 mm and more.
pub const ARM_EASE: f64 = 100.0;
/// Least ease round the upper arm (`cwu-costume`: 2 in).
pub const ARM_EASE_LEAST: f64 = 50.0;
/// What the flat body is wider than the shoulders at least, so that they pass.
pub const SHOULDERS_PASS: f64 = 40.0;
/// What the neck opening is more than the head at least (`drafting-texts`).
pub const HEAD_EASE: f64 = 20.0;
/// What a close neck is more than the neck base.
pub const NECK_EASE: f64 = 20.0;
/// Slope of the shoulder seam: fall for one of run (17.7°).
pub const SHOULDER_SLOPE: f64 = 0.32;
/// How much lower than the fitted block's the underarm of a loose top lies.
pub const UNDERARM_DROP: f64 = 60.0;
/// Shortest shoulder seam that holds a garment up.
pub const SHOULDER_LEAST: f64 = 40.0;
/// Nape below the side neck points: back neck depth of the body itself.
pub const NAPE_DROP: f64 = 20.0;
/// Length from the waist to the hem of a top.
pub const BELOW_WAIST: f64 = 200.0;
/// Share of the arm that a short sleeve covers.
pub const SHORT_SLEEVE: f64 = 0.38;
/// What a cuff without opening is more than the hand at least (thumb folded in).
pub const HAND_EASE: f64 = 40.0;
/// Least and greatest height of a sleeve cap as a share of the mean armhole: lower pulls at the neck when the arm hangs,
/// higher binds when it is lifted.
pub const CAP_SHARE: (f64, f64) = (0.2, 0.40);
/// Greatest angle of a sleeve below level before lifting the arms drags the hem up, degrees.
pub const HANG_MOST: f64 = 50.0;
/// Greatest difference between a sleeve cap and its armhole, from the design's own requirement.
pub const SLEEVE_MATCH: f64 = 2.0;
/// Height of the crotch as a share of the body's height (0.47 to 0.49 in the 2012 survey's men).
pub const CROTCH: f64 = 0.48;
/// Length of a walking step as a share of the body's height.
pub const STEP: f64 = 0.41;
/// Girth of one leg inside a hem as a share of the hip's.
pub const LEG: f64 = 0.38;
/// Least distance from a print to a seam line.
pub const PRINT_CLEAR: f64 = 15.0;
/// Width of a facing.
pub const FACING: f64 = 60.0;
/// Facings outside these are slips.
pub const FACING_BOUNDS: (f64, f64) = (20.0, 150.0);
/// Width of a facing below and beside the end of a slit.
pub const SLIT_FACING: f64 = 50.0;

/// Plain, felled and French seam allowance (sewing pages, 5/8 in and 15 mm).
pub const ALLOWANCE: f64 = 15.0;
/// Lapped seam on selvedges.
pub const LAPPED: f64 = 10.0;
/// Allowance of an enclosed edge, a neck under its facing (sewing pages, 6 to 10 mm).
pub const ENCLOSED: f64 = 10.0;
/// Least allowance in open cloth (finished cover factor below 18), against slipping and fraying.
pub const OPEN_CLOTH: f64 = 15.0;
/// Seam allowances outside these are slips.
pub const ALLOWANCE_BOUNDS: (f64, f64) = (5.0, 40.0);
/// Hem of a top or sleeve: 10 and 20 mm.
pub const HEM: f64 = 30.0;
/// Hem at the ends of a towel or scarf: 10 and 15 mm.
pub const NARROW_HEM: f64 = 25.0;
/// Hem at the top of a bag: 10 and 30 mm.
pub const BAG_HEM: f64 = 40.0;
/// Side hem of an apron: 10 and 15 mm.
pub const SIDE_HEM: f64 = 25.0;
/// Hems outside these are slips.
pub const HEM_BOUNDS: (f64, f64) = (8.0, 150.0);

/// Scye depth of the bodice block, mm from mm of chest: chest/8 + 2 1/2 in (`artvani`).
pub fn scye_depth(chest: f64) -> f64 {
    chest / 8.0 + 2.5 * 25.4
}
/// Quarter width of the bodice block: chest/4 + 1 1/2 in (`artvani`), which is 6 in of ease in all.
pub fn block_quarter(chest: f64) -> f64 {
    chest / 4.0 + 1.5 * 25.4
}
/// Half neck width of the bodice block: chest/12 + 1/4 in (`artvani`).
pub fn block_neck_width(chest: f64) -> f64 {
    chest / 12.0 + 0.25 * 25.4
}
/// Front neck depth of the bodice block: chest/8 (`artvani`).
pub fn block_neck_depth(chest: f64) -> f64 {
    chest / 8.0
}
/// Height of the sleeve triangle whose long sides are half the armhole and whose base is the sleeve's width (`dresspatternmaking`); `None`
/// where the sleeve is wider than the armhole is long.
pub fn cap_height(half_armhole: f64, sleeve_width: f64) -> Option<f64> {
    let rest = half_armhole * half_armhole - 0.25 * sleeve_width * sleeve_width;
    (rest > 0.0).then(|| rest.sqrt())
}
/// Length of the slit that lets a head pass a neck (geometry); a slit of s adds 2 s to the opening.
pub fn slit_length(head: f64, opening: f64) -> f64 {
    (0.5 * (head + HEAD_EASE - opening)).max(0.0)
}

/// Girth a hem needs to walk in, mm, when it hangs `height` above the floor: a step spreads the legs in proportion to the
/// distance below the crotch, and the hem goes round both. Nought above the crotch.
pub fn walking_girth(stature: f64, hip: f64, height: f64) -> f64 {
    let crotch = CROTCH * stature;
    let below = (crotch - height).max(0.0) / crotch;
    if below > 0.0 { 2.0 * STEP * stature * below + LEG * hip } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published (`artvani`): chest 36 in gives 7, 10.5, 3.25 and 4.5 in.
    #[test]
    fn the_block_of_a_36_inch_chest() {
        let chest = 36.0 * 25.4;
        let found = [scye_depth(chest), block_quarter(chest), block_neck_width(chest), block_neck_depth(chest)];
        for (mm, inches) in found.into_iter().zip([7.0, 10.5, 3.25, 4.5]) {
            assert!((mm / 25.4 - inches).abs() < 1e-9, "{mm}");
        }
        assert!((4.0 * block_quarter(chest) - chest - 6.0 * 25.4).abs() < 1e-9, "implied ease of 6 in");
    }

    /// Published (`dresspatternmaking`): A = 220 and B = 330 mm give 145.5 mm.
    #[test]
    fn the_sleeve_triangle() {
        assert!((cap_height(220.0, 330.0).unwrap() - 145.5).abs() < 0.05);
        assert_eq!(cap_height(150.0, 330.0), None);
    }

    /// Published means (`ansur-2`). Head 561 and neck base 371 mm (women's means) want a slit of 105 mm; head 597 mm (95th of a
    /// hundred women) wants a boat slit of 308.5 mm or a round opening of 617 mm.
    #[test]
    fn slits_for_a_head() {
        assert!((slit_length(561.0, 371.0) - 105.0).abs() < 1e-9);
        assert!((slit_length(597.0, 0.0) - 308.5).abs() < 1e-9);
        assert_eq!(slit_length(597.0, 617.0), 0.0);
    }
}
