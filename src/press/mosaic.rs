//! A sheet's code for a camera. In: the code. Out: the modules of a QR code (ISO/IEC 18004). It must hold nothing but the code.

use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

/// The luminance of each module, 0 or 255, row by row: 21 by 21. Nothing for a text that does not fit, which no code is.
///
/// Version 1 at the highest level of correction takes ten digits, capitals and hyphens: a code with its hyphen has nine.
pub(super) fn pixels(code: &str) -> Vec<u8> {
    let segments = QrSegment::make_segments(code);
    let Ok(found) =
        QrCode::encode_segments_advanced(&segments, QrCodeEcc::High, Version::MIN, Version::MIN, None, false)
    else {
        return Vec::new();
    };
    let modules = (0..found.size()).flat_map(|y| (0..found.size()).map(move |x| (x, y)));
    modules.map(|(x, y)| if found.get_module(x, y) { 0 } else { 255 }).collect()
}
