//! Time stamps of loggers. In: texts such as `10:15:30`, `2026-11-03T10:15:30.5`, `03.11.2026 10:15:30`. Out: seconds since the
//! first. It must know no calendar: only that a new day comes where the date changes or the clock starts anew.

/// Seconds in a day.
const DAY: f64 = 86_400.0;

/// A time stamp in parts.
#[derive(Debug, Clone, PartialEq)]
struct Stamp {
    date: String,
    /// The numbers between colons.
    parts: Vec<f64>,
    afternoon: bool,
    morning: bool,
}

/// Whether a text looks like a time stamp.
pub(super) fn is_stamp(text: &str) -> bool {
    parse(text).is_some()
}

fn parse(text: &str) -> Option<Stamp> {
    let text = text.trim().trim_end_matches('Z').replace('T', " ");
    let upper = text.to_uppercase();
    let (morning, afternoon) = (upper.ends_with("AM"), upper.ends_with("PM"));
    let text = if morning || afternoon { text[..text.len() - 2].trim() } else { text.trim() };
    let (date, clock) = match text.rsplit_once(' ') {
        Some((date, clock)) => (date.trim(), clock),
        None => ("", text),
    };
    let dated = date.is_empty() || date.bytes().all(|sign| sign.is_ascii_digit() || matches!(sign, b'-' | b'.' | b'/'));
    let parts: Vec<f64> = clock.split(':').map(|part| part.replace(',', ".").parse().ok()).collect::<Option<_>>()?;
    let in_order = parts.iter().skip(1).all(|part| (0.0..60.0).contains(part)) && parts.iter().all(|part| *part >= 0.0);
    (dated && matches!(parts.len(), 2 | 3) && in_order).then(|| Stamp {
        date: date.to_owned(),
        parts,
        afternoon,
        morning,
    })
}

impl Stamp {
    /// Seconds since midnight, or since the clock was started.
    fn seconds(&self, minutes_first: bool) -> f64 {
        let [mut hours, minutes, seconds] = match self.parts[..] {
            [minutes, seconds] if minutes_first => [0.0, minutes, seconds],
            [hours, minutes] => [hours, minutes, 0.0],
            [hours, minutes, seconds] => [hours, minutes, seconds],
            _ => [0.0; 3],
        };
        if self.afternoon && hours < 12.0 {
            hours += 12.0;
        }
        if self.morning && hours == 12.0 {
            hours = 0.0;
        }
        (hours * 60.0 + minutes) * 60.0 + seconds
    }
}

/// Seconds since the first stamp, `None` for texts that are none. Where stamps have two parts, they are hours and minutes or
/// minutes and seconds: whichever lets the run last nearer to `expected` seconds.
pub(super) fn seconds(texts: &[&str], expected: f64) -> Vec<Option<f64>> {
    let stamps: Vec<Option<Stamp>> = texts.iter().map(|text| parse(text)).collect();
    let two_parts = stamps.iter().flatten().all(|stamp| stamp.parts.len() == 2);
    let plain = since_first(&stamps, false);
    if !two_parts {
        return plain;
    }
    let minutes = since_first(&stamps, true);
    let misses = |times: &[Option<f64>]| {
        let longest = times.iter().flatten().copied().fold(0.0, f64::max);
        (libm::log((longest + 1.0) / (expected + 1.0))).abs()
    };
    if misses(&minutes) < misses(&plain) { minutes } else { plain }
}

fn since_first(stamps: &[Option<Stamp>], minutes_first: bool) -> Vec<Option<f64>> {
    let mut days = 0.0;
    let mut before: Option<(&str, f64)> = None;
    let mut first = None;
    let times = stamps.iter().map(|stamp| {
        let stamp = stamp.as_ref()?;
        let clock = stamp.seconds(minutes_first);
        if let Some((date, earlier)) = before {
            let dated = !date.is_empty() && !stamp.date.is_empty();
            // A clock that goes back by hours has passed midnight; by less, a row is out of order.
            if (dated && date != stamp.date) || (!dated && earlier - clock > DAY / 2.0) {
                days += 1.0;
            }
        }
        before = Some((&stamp.date, clock));
        let time = days * DAY + clock;
        Some(time - *first.get_or_insert(time))
    });
    times.collect()
}
