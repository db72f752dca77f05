//! Between the light that is reckoned with and the bytes a screen takes.

/// Linear light of an sRGB byte, 0 to 1 (IEC 61966-2-1).
pub fn linear(byte: u8) -> f32 {
    let c = f64::from(byte) / 255.0;
    (if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }) as f32
}

/// sRGB bytes of light, by table: straight up to the shoulder, then bent so that 1.6 is still below white.
pub struct Tone {
    bytes: Vec<u8>,
}

const STEPS: usize = 4096;
const BRIGHTEST: f32 = 1.6;

impl Tone {
    pub fn new() -> Self {
        let bytes = (0..=STEPS)
            .map(|i| {
                let light = shoulder(i as f64 / STEPS as f64 * f64::from(BRIGHTEST));
                let c = if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 };
                (c * 255.0 + 0.5) as u8
            })
            .collect();
        Tone { bytes }
    }
    #[inline]
    pub fn byte(&self, light: f32) -> u8 {
        self.bytes[(light.clamp(0.0, BRIGHTEST) * (STEPS as f32 / BRIGHTEST)) as usize]
    }
}

/// Leaves light below 0.6 alone and brings what is above gently under 1.
fn shoulder(light: f64) -> f64 {
    const KNEE: f64 = 0.6;
    if light <= KNEE { light } else { KNEE + (1.0 - KNEE) * (1.0 - libm::exp(-(light - KNEE) / (1.0 - KNEE))) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_in_the_middle_come_back() {
        let tone = Tone::new();
        for byte in 20..200u8 {
            assert!(tone.byte(linear(byte)).abs_diff(byte) <= 1, "{byte}");
        }
        assert!(tone.byte(9.0) > 245 && tone.byte(-1.0) == 0);
    }
}
