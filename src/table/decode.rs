//! Bytes of a table to text. In: a file's bytes. Out: text, whatever a spreadsheet wrote it in. It must not split cells.

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// A text with what was found out about its bytes.
pub(super) struct Decoded {
    /// The text, its lines ended by line feeds.
    pub(super) text: String,
    /// Whether the encoding is only the likeliest one: bytes of Windows-1252 look like those of its sisters.
    pub(super) guessed: bool,
}

/// The text of a file in UTF-8 (with or without mark), UTF-16, or else Windows-1252.
pub(super) fn decode(bytes: &[u8]) -> Decoded {
    let (encoding, skip) = match Encoding::for_bom(bytes) {
        Some((encoding, mark)) => (encoding, mark),
        None => (guess(bytes), 0),
    };
    let text = encoding.decode_without_bom_handling(&bytes[skip..]).0;
    // Some spreadsheets end lines with a carriage return alone.
    let text = if text.contains('\n') { text.into_owned() } else { text.replace('\r', "\n") };
    Decoded { text, guessed: encoding == WINDOWS_1252 }
}

/// Without a mark: the first sign of a header is ASCII, so a zero byte beside it tells UTF-16;
/// bad sequences tell Windows-1252 from UTF-8.
fn guess(bytes: &[u8]) -> &'static Encoding {
    match bytes {
        [1..=255, 0, ..] => UTF_16LE,
        [0, 1..=255, ..] => UTF_16BE,
        _ if std::str::from_utf8(bytes).is_ok() => UTF_8,
        _ => WINDOWS_1252,
    }
}
