//! Bits pressed into one deflate stream by all workers: bands of rows are pressed each by itself and joined at byte borders, which the format
//! allows (RFC 1951), with the sum over the whole (RFC 1950) put together from the bands' own.

use flate2::{Compress, Compression, FlushCompress, Status};
use rayon::prelude::*;

/// Rows pressed together.
const BAND: usize = 256;
/// Base of the sum.
const ADLER: u64 = 65_521;

/// Rows of `row` bytes as a zlib stream; with `upward` each row is said as what differs from the row above (PNG's filter of that name).
pub fn pack(rows: &[u8], row: usize, upward: bool) -> Vec<u8> {
    let band = row * BAND;
    let number = rows.len().div_ceil(band.max(1)).max(1);
    let bands: Vec<(Vec<u8>, Sum)> = (0..number)
        .into_par_iter()
        .map(|n| {
            let (from, to) = (n * band, ((n + 1) * band).min(rows.len()));
            let said = if upward { differences(rows, row, from, to) } else { rows[from..to].to_vec() };
            (pressed(&said, n + 1 == number), Sum::of(&said))
        })
        .collect();
    let mut out = vec![0x78, 0x9c];
    let mut sum = Sum::of(&[]);
    for (bytes, own) in bands {
        out.extend(bytes);
        sum = sum.then(own);
    }
    out.extend(sum.number().to_be_bytes());
    out
}

fn differences(rows: &[u8], row: usize, from: usize, to: usize) -> Vec<u8> {
    let mut out = Vec::with_capacity((to - from) / row.max(1) * (row + 1));
    for start in (from..to).step_by(row) {
        out.push(2);
        let here = &rows[start..start + row];
        match start.checked_sub(row) {
            Some(above) => out.extend(here.iter().zip(&rows[above..start]).map(|(a, b)| a.wrapping_sub(*b))),
            None => out.extend_from_slice(here),
        }
    }
    out
}

fn pressed(bytes: &[u8], last: bool) -> Vec<u8> {
    let mut press = Compress::new(Compression::new(4), false);
    let mut out = Vec::with_capacity(bytes.len() / 4 + 1024);
    let flush = if last { FlushCompress::Finish } else { FlushCompress::Sync };
    loop {
        let done = press.total_in() as usize;
        let before = out.len();
        if out.capacity() - out.len() < 64 {
            out.reserve(out.capacity().max(4096));
        }
        // pressing memory into memory has no way to fail
        let status = press.compress_vec(&bytes[done..], &mut out, flush).unwrap_or(Status::StreamEnd);
        let all_in = press.total_in() as usize == bytes.len();
        let room_left = out.capacity() > out.len();
        if status == Status::StreamEnd || (all_in && room_left && (!last || out.len() == before)) {
            return out;
        }
    }
}

/// Adler's sum of some bytes, with their number.
#[derive(Clone, Copy)]
struct Sum {
    a: u64,
    b: u64,
    long: u64,
}

impl Sum {
    fn of(bytes: &[u8]) -> Sum {
        let (mut a, mut b) = (1u64, 0u64);
        for part in bytes.chunks(4096) {
            for byte in part {
                a += u64::from(*byte);
                b += a;
            }
            (a, b) = (a % ADLER, b % ADLER);
        }
        Sum { a, b, long: bytes.len() as u64 }
    }
    /// The sum of these bytes and then those.
    fn then(self, next: Sum) -> Sum {
        let a = (self.a + next.a + ADLER - 1) % ADLER;
        let b = (self.b + next.b + (next.long % ADLER) * ((self.a + ADLER - 1) % ADLER)) % ADLER;
        Sum { a, b, long: self.long + next.long }
    }
    fn number(self) -> u32 {
        ((self.b << 16) | self.a) as u32
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read;

    fn unpacked(bytes: &[u8]) -> Vec<u8> {
        let mut out = Vec::new();
        flate2::read::ZlibDecoder::new(bytes).read_to_end(&mut out).expect("a sound stream");
        out
    }

    #[test]
    fn bands_join_into_one_sound_stream() {
        let row = 37;
        for number in [0usize, 1, 255, 256, 257, 1500] {
            let rows: Vec<u8> = (0..number * row).map(|i| ((i * i) >> 7) as u8).collect();
            assert_eq!(unpacked(&pack(&rows, row, false)), rows, "{number}");
            let up = unpacked(&pack(&rows, row, true));
            assert_eq!(up.len(), number * (row + 1));
            let mut above = vec![0u8; row];
            for (n, line) in up.chunks(row + 1).enumerate() {
                assert_eq!(line[0], 2);
                let here: Vec<u8> = line[1..].iter().zip(&above).map(|(a, b)| a.wrapping_add(*b)).collect();
                assert_eq!(here, rows[n * row..(n + 1) * row]);
                above = here;
            }
        }
    }
}
