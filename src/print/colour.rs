//! Colours as the eye parts them: Oklab (Ottosson 2020, constants from memory, proved by known colours), in which equal steps look about equally far apart, and plain names
//! for inks. Bytes are sRGB.

/// Linear light of an sRGB byte, 0 to 1 (IEC 61966-2-1).
pub fn linear(byte: u8) -> f64 {
    let c = f64::from(byte) / 255.0;
    if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
}

/// The sRGB byte of linear light.
pub fn byte(light: f64) -> u8 {
    let light = light.clamp(0.0, 1.0);
    let c = if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 };
    (c * 255.0 + 0.5) as u8
}

/// Lightness 0 to 1, and the two opponent axes.
pub type Lab = [f64; 3];

/// Oklab of an sRGB colour.
pub fn oklab(rgb: [u8; 3]) -> Lab {
    oklab_of_light(rgb.map(linear))
}

/// Oklab of linear light.
pub fn oklab_of_light([r, g, b]: [f64; 3]) -> Lab {
    let l = libm::cbrt(0.412_221_470_8 * r + 0.536_332_536_3 * g + 0.051_445_992_9 * b);
    let m = libm::cbrt(0.211_903_498_2 * r + 0.680_699_545_1 * g + 0.107_396_956_6 * b);
    let s = libm::cbrt(0.088_302_461_9 * r + 0.281_718_837_6 * g + 0.629_978_700_5 * b);
    [
        0.210_454_255_3 * l + 0.793_617_785_0 * m - 0.004_072_046_8 * s,
        1.977_998_495_1 * l - 2.428_592_205_0 * m + 0.450_593_709_9 * s,
        0.025_904_037_1 * l + 0.782_771_766_2 * m - 0.808_675_766_0 * s,
    ]
}

/// Square of the distance between two colours; 0.02² is about what an eye just tells apart.
pub fn apart2(a: Lab, b: Lab) -> f64 {
    (0..3).map(|i| (a[i] - b[i]) * (a[i] - b[i])).sum()
}

/// Share of light a colour sends back, 0 to 1 (luminance of IEC 61966-2-1).
pub fn lightness(rgb: [u8; 3]) -> f64 {
    let [r, g, b] = rgb.map(linear);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// A plain name for an ink of that colour.
pub fn name(rgb: [u8; 3]) -> String {
    let [l, a, b] = oklab(rgb);
    let strength = libm::hypot(a, b);
    if strength < 0.025 {
        let grey = [(0.22, "black"), (0.45, "dark grey"), (0.7, "grey"), (0.93, "light grey")];
        return grey.iter().find(|(top, _)| l < *top).map_or("white", |(_, word)| word).to_string();
    }
    let turn = libm::atan2(b, a).to_degrees().rem_euclid(360.0);
    let hues = [
        (12.0, "pink"),
        (38.0, "red"),
        (72.0, "orange"),
        (118.0, "yellow"),
        (160.0, "green"),
        (205.0, "sea green"),
        (240.0, "sky blue"),
        (290.0, "blue"),
        (325.0, "violet"),
        (360.0, "pink"),
    ];
    let hue = hues.iter().find(|(top, _)| turn < *top).map_or("pink", |(_, word)| word);
    let hue = match hue {
        "orange" | "yellow" if l < 0.55 => "brown",
        "pink" if l < 0.5 => "wine red",
        other => other,
    };
    match l {
        l if l < 0.42 => format!("dark {hue}"),
        l if l > 0.85 && hue != "yellow" => format!("light {hue}"),
        _ => hue.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// White is (1, 0, 0) by the construction of the space; the numbers for red are from
    /// working it out again in another program (0.628, 0.225, 0.126).
    #[test]
    fn known_colours() {
        let close = |a: Lab, b: Lab| (0..3).all(|i| (a[i] - b[i]).abs() < 6e-4);
        assert!(close(oklab([255, 255, 255]), [1.0, 0.0, 0.0]), "{:?}", oklab([255, 255, 255]));
        assert!(close(oklab([255, 0, 0]), [0.628, 0.2249, 0.1258]), "{:?}", oklab([255, 0, 0]));
        assert!(close(oklab([0, 0, 0]), [0.0, 0.0, 0.0]));
    }

    #[test]
    fn bytes_come_back_and_names_are_plain() {
        assert!((0..=255u8).all(|b| byte(linear(b)) == b));
        let named = [
            ([0x2d, 0x3e, 0x68], "dark blue"),
            ([0xc8, 0x3a, 0x24], "red"),
            ([0, 0, 0], "black"),
            ([255, 255, 255], "white"),
            ([0x2f, 0x7d, 0x3b], "green"),
        ];
        for (rgb, word) in named {
            assert_eq!(name(rgb), word, "{rgb:?} {:?}", oklab(rgb));
        }
    }
}
