//! Bytes of a table to text. In: a file's bytes. Out: text, whatever a spreadsheet wrote it in. It must not split cells.

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// The text of a file in UTF-8 (with or without mark), UTF-16, or else Windows-1252.
pub(super) fn decode(bytes: &[u8]) -> String {
    let (encoding, skip) = match Encoding::for_bom(bytes) {
        Some((encoding, mark)) => (encoding, mark),
        None => (guess(bytes), 0),
    };
    encoding.decode_without_bom_handling(&bytes[skip..]).0.into_owned()
}

/// Without a mark: zero bytes tell UTF-16 apart, bad sequences tell Windows-1252 apart.
fn guess(bytes: &[u8]) -> &'static Encoding {
    let head = &bytes[..bytes.len().min(400) & !1];
    let zeros = |offset: usize| head.iter().skip(offset).step_by(2).filter(|&&byte| byte == 0).count();
    if zeros(1) * 4 > head.len() && zeros(0) == 0 {
        UTF_16LE
    } else if zeros(0) * 4 > head.len() && zeros(1) == 0 {
        UTF_16BE
    } else if std::str::from_utf8(bytes).is_ok() {
        UTF_8
    } else {
        WINDOWS_1252
    }
}

/// The delimiter of a table: the commonest of semicolon, tab and comma in its first line, outside quotes.
pub(super) fn delimiter(text: &str) -> u8 {
    let line = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let mut counts = [(b';', 0), (b'\t', 0), (b',', 0)];
    let mut quoted = false;
    for byte in line.bytes() {
        if byte == b'"' {
            quoted = !quoted;
        } else if let Some(entry) = counts.iter_mut().find(|(sign, _)| *sign == byte && !quoted) {
            entry.1 += 1;
        }
    }
    let most = counts.iter().map(|entry| entry.1).max().unwrap_or(0);
    counts.iter().find(|entry| entry.1 == most).map_or(b',', |entry| entry.0)
}
