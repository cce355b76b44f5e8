//! Points, commas and spaces inside a number. In: the digits somebody wrote. Out: plain decimal text.
//! It must never take groups of unlike length for groups.

use super::reading::SPACES;

/// A mantissa as plain decimal text.
pub(super) struct Mantissa {
    /// With a point as decimal sign and no groups.
    pub(super) plain: String,
    /// The text where the sign that was taken for one of groups is a decimal sign.
    pub(super) other: Option<String>,
}

/// Where digits, decimal signs and spaces between groups end.
pub(super) fn end(body: &str) -> usize {
    let mut end = 0;
    for (at, sign) in body.char_indices() {
        let behind = &body[at + sign.len_utf8()..];
        let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
        let grouping = SPACES.contains(&sign) && at > 0 && end == at && digits == 3;
        if sign.is_ascii_digit() || (matches!(sign, '.' | ',') && digits > 0) || grouping {
            end = at + sign.len_utf8();
        } else {
            break;
        }
    }
    end
}

/// Reads digits, signs and spaces; nothing where several readings are possible.
pub(super) fn read(text: &str, own: &str) -> Option<Mantissa> {
    let spaced = text.contains(SPACES);
    let (points, commas) = (text.matches('.').count(), text.matches(',').count());
    let last = text.rfind(['.', ',']);
    let plain = |text: String| Some(Mantissa { plain: text, other: None });
    let Some(last) = last else { return plain(joined(text, SPACES)?) };
    let (whole, decimals) = (&text[..last], &text[last + 1..]);
    let decimal = |whole: String| format!("{whole}.{}", decimals.replace(SPACES, ""));
    match (points, commas) {
        (1, 0) | (0, 1) => {
            let as_decimal = decimal(joined(whole, SPACES)?);
            let group = !spaced && !whole.starts_with('0') && !text[last..].starts_with(own);
            match joined(text, ['.', ',']).filter(|_| group) {
                Some(grouped) => Some(Mantissa { plain: grouped, other: Some(as_decimal) }),
                None => plain(as_decimal),
            }
        }
        (0, _) | (_, 0) => plain(joined(text, ['.', ','])?),
        _ if spaced || whole.contains(&text[last..=last]) => None,
        _ => plain(decimal(joined(whole, ['.', ','])?)),
    }
}

/// Digits without the signs of their groups: up to three, then three each; nothing where the groups are unlike.
fn joined<const N: usize>(text: &str, signs: [char; N]) -> Option<String> {
    let groups: Vec<&str> = text.split(signs).collect();
    let (head, tail) = groups.split_first()?;
    let alike = tail.is_empty() || ((1..=3).contains(&head.len()) && tail.iter().all(|group| group.len() == 3));
    let digits = groups.iter().all(|group| group.bytes().all(|byte| byte.is_ascii_digit()));
    (alike && digits).then(|| groups.concat())
}
