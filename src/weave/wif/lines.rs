//! Bytes into text and text into sections of keys and values, each with its place. Knows the shape of the file, not what is in it.

use crate::diag::Diagnostic;
use std::ops::Range;

/// Longest file read.
pub const MOST_BYTES: usize = 16 << 20;

/// One `key=value`, or a line without `=`.
#[derive(Clone, Debug)]
pub struct Line<'t> {
    pub key: &'t str,
    pub value: Option<&'t str>,
    pub at: Range<usize>,
}

/// One `[NAME]` and what follows it.
#[derive(Clone, Debug)]
pub struct Section<'t> {
    /// In capitals, one space between words, American spelling.
    pub name: String,
    /// As written.
    pub title: &'t str,
    pub at: Range<usize>,
    pub lines: Vec<Line<'t>>,
    pub remarks: Vec<&'t str>,
}

/// The file as text: UTF-8 with or without its mark, UTF-16 by its mark, else taken for Windows Latin. Refuses what is too long or
/// holds bytes that are in no text.
pub fn decode(bytes: &[u8]) -> Result<(String, Option<Diagnostic>), Box<Diagnostic>> {
    if bytes.len() > MOST_BYTES {
        let message = format!("the file has {} bytes; at most {MOST_BYTES} are read", bytes.len());
        return Err(Box::new(Diagnostic::error("wif-too-long", message)));
    }
    let wide = |rest: &[u8], pair: fn([u8; 2]) -> u16| {
        let units: Vec<u16> = rest.chunks_exact(2).map(|c| pair([c[0], c[1]])).collect();
        String::from_utf16_lossy(&units)
    };
    let (text, note) = match bytes {
        [0xEF, 0xBB, 0xBF, rest @ ..] => (String::from_utf8_lossy(rest).into_owned(), None),
        [0xFF, 0xFE, rest @ ..] => (wide(rest, u16::from_le_bytes), None),
        [0xFE, 0xFF, rest @ ..] => (wide(rest, u16::from_be_bytes), None),
        _ => match std::str::from_utf8(bytes) {
            Ok(text) => (text.to_string(), None),
            Err(_) => {
                let note = Diagnostic::note("wif-encoding", "the file is not UTF-8; it was read as Windows Latin");
                (bytes.iter().map(|&b| latin(b)).collect(), Some(note))
            }
        },
    };
    if text.contains('\0') {
        let help = "a WIF is a plain text that begins with [WIF]";
        return Err(Box::new(Diagnostic::error("wif-not-text", "the file is not a text").help(help)));
    }
    Ok((text, note))
}

/// Windows code page 1252: Latin-1 but for 0x80 to 0x9F.
fn latin(byte: u8) -> char {
    const HIGH: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}', '‘',
        '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
    ];
    match byte {
        0x80..=0x9F => HIGH[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}

/// Sections in order; a section that comes twice is one. What stands before the first has the name "".
pub fn sections<'t>(text: &'t str, faults: &mut Vec<Diagnostic>) -> Vec<Section<'t>> {
    let mut all = vec![Section { name: String::new(), title: "", at: 0..0, lines: Vec::new(), remarks: Vec::new() }];
    let mut names = std::collections::BTreeMap::from([(String::new(), 0usize)]);
    let mut current = 0;
    let mut start = 0;
    for raw in text.split_inclusive(['\n', '\r']) {
        let line = raw.trim();
        let from = start + (raw.len() - raw.trim_start().len()).min(raw.len());
        let at = from..from + line.len();
        start += raw.len();
        if line.is_empty() {
            continue;
        }
        if let Some(remark) = line.strip_prefix(';') {
            all[current].remarks.push(remark.trim());
        } else if let Some(rest) = line.strip_prefix('[') {
            let title = rest.split(']').next().unwrap_or("").trim();
            if !rest.contains(']') {
                say(faults, || {
                    Diagnostic::warning("wif-section", "a section's name without its ]").at(Some(at.clone()))
                });
            }
            let name = canonical(title);
            current = *names.entry(name.clone()).or_insert(all.len());
            if current == all.len() {
                all.push(Section { name, title, at, lines: Vec::new(), remarks: Vec::new() });
            } else {
                let message = format!("the section {name} comes twice; its lines are read as one");
                say(faults, || Diagnostic::warning("wif-section-twice", message).at(Some(at)));
            }
        } else {
            let (key, value) = match line.split_once('=') {
                Some((key, value)) => (key.trim(), Some(value.trim())),
                None => (line, None),
            };
            all[current].lines.push(Line { key, value, at });
        }
    }
    all
}

/// Adds a fault unless there are plenty.
pub fn say(faults: &mut Vec<Diagnostic>, fault: impl FnOnce() -> Diagnostic) {
    // Errors always find room, so that a file with many warnings cannot hide that it is unusable.
    if faults.len() < 2 * crate::diag::MOST {
        faults.push(fault());
    } else if faults.len() < 3 * crate::diag::MOST {
        let fault = fault();
        if fault.is_error() {
            faults.push(fault);
        }
    }
}

/// Name of a section or key: capitals, single spaces, and both spellings of colour.
pub fn canonical(name: &str) -> String {
    let words: Vec<String> = name.split_whitespace().map(str::to_uppercase).collect();
    words.join(" ").replace("COLOUR", "COLOR")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn encodings() {
        let plain = "[TEXT]\nTitle=Müll – €\n";
        let utf16: Vec<u8> = plain.encode_utf16().flat_map(u16::to_le_bytes).collect();
        let marked = [&[0xFF, 0xFE][..], &utf16].concat();
        assert_eq!(decode(&marked).unwrap().0, plain);
        let be: Vec<u8> = plain.encode_utf16().flat_map(u16::to_be_bytes).collect();
        assert_eq!(decode(&[&[0xFE, 0xFF][..], &be].concat()).unwrap().0, plain);
        assert_eq!(decode(&[&[0xEF, 0xBB, 0xBF][..], plain.as_bytes()].concat()).unwrap().0, plain);
        let latin = b"[TEXT]\nTitle=M\xFCll \x96 \x80\n";
        let (text, note) = decode(latin).unwrap();
        assert_eq!(text, plain);
        assert!(note.is_some());
        assert_eq!(decode(b"\x89PNG\0\0").unwrap_err().code, "wif-not-text");
        assert_eq!(decode(&utf16).unwrap_err().code, "wif-not-text", "UTF-16 without its mark");
        assert_eq!(decode(&vec![b'a'; MOST_BYTES + 1]).unwrap_err().code, "wif-too-long");
    }

    #[test]
    fn places_are_those_of_the_text() {
        let text = "; top\r\n[ Warp  colours ]\r\n 1 = 2 \r\nloose\r\n[WARP COLORS\r\n2=1";
        let mut faults = Vec::new();
        let all = sections(text, &mut faults);
        assert_eq!(all[0].remarks, ["top"]);
        assert_eq!((all.len(), all[1].name.as_str(), all[1].title), (2, "WARP COLORS", "Warp  colours"));
        let lines: Vec<_> = all[1].lines.iter().map(|l| (l.key, l.value, &text[l.at.clone()])).collect();
        assert_eq!(lines, [("1", Some("2"), "1 = 2"), ("loose", None, "loose"), ("2", Some("1"), "2=1")]);
        assert_eq!(faults.iter().map(|f| f.code).collect::<Vec<_>>(), ["wif-section", "wif-section-twice"]);
    }
}
