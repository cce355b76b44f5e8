//! Versions by seat: neighbours differ wherever that is possible at all.

use labquire::class::{Seat, deal};
use proptest::prelude::*;

fn seats(texts: &[&str]) -> Vec<Option<Seat>> {
    texts.iter().map(|text| Seat::parse(text)).collect()
}

fn neighbours(one: Seat, other: Seat) -> bool {
    let rows = (one.row as i64 - other.row as i64).abs();
    let numbers = (i64::from(one.number) - i64::from(other.number)).abs();
    one != other && rows <= 1 && numbers <= 1
}

/// Whether some way of dealing parts all neighbours, by trying all ways.
fn possible(seats: &[Seat], count: usize) -> bool {
    (0..count.pow(seats.len() as u32)).any(|way| {
        let version = |place: usize| way / count.pow(place as u32) % count;
        let parted = |one: usize, other: usize| !neighbours(seats[one], seats[other]) || version(one) != version(other);
        (0..seats.len()).all(|one| (0..one).all(|other| parted(one, other)))
    })
}

fn room() -> impl Strategy<Value = Vec<Seat>> {
    prop::collection::btree_set((0..4u8, 1..5u32), 1..9)
        .prop_map(|seats| seats.into_iter().map(|(row, number)| Seat { row: (b'A' + row) as char, number }).collect())
}

proptest! {
    /// Four versions are enough for every room, as each square of four seats needs four and no more (the four-colouring of
    /// the king's graph); fewer are dealt without a clash exactly where a way to do so exists.
    #[test]
    fn neighbours_differ_wherever_they_can(room in room(), count in 1..6usize) {
        let seats: Vec<Option<Seat>> = room.iter().copied().map(Some).collect();
        let deal = deal(&seats, &vec![None; seats.len()], count);
        prop_assert!(deal.versions.iter().all(|version| *version < count));
        let clashing = |one: usize, other: usize| {
            neighbours(room[one], room[other]) && deal.versions[one] == deal.versions[other]
        };
        let clashes: Vec<_> =
            (0..room.len()).flat_map(|other| (0..other).map(move |one| (one, other))).filter(|&(one, other)| clashing(one, other)).collect();
        let mut told = deal.clashes.clone();
        told.sort_unstable_by_key(|&(one, other)| (other, one));
        prop_assert_eq!(&told, &clashes);
        prop_assert!(count < 4 || clashes.is_empty());
        if count < 4 && room.len() <= 7 {
            prop_assert_eq!(clashes.is_empty(), possible(&room, count));
        }
    }

    #[test]
    fn who_has_a_version_keeps_it(room in room(), shares in prop::collection::vec(prop::option::of(0..4usize), 9)) {
        let seats: Vec<Option<Seat>> = room.iter().copied().map(Some).collect();
        let held: Vec<Option<usize>> = shares.into_iter().take(seats.len()).chain(std::iter::repeat(None)).take(seats.len()).collect();
        let deal = deal(&seats, &held, 4);
        for (held, version) in held.iter().zip(&deal.versions) {
            prop_assert!(held.is_none_or(|held| held == *version));
        }
    }
}

#[test]
fn a_full_room_uses_all_versions_about_equally() {
    let texts: Vec<String> = ('A'..='E').flat_map(|row| (1..=6).map(move |number| format!("{row}{number}"))).collect();
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    for count in 4..=9 {
        let deal = deal(&seats(&texts), &[None; 30], count);
        assert_eq!(deal.clashes, []);
        let used = |version| deal.versions.iter().filter(|own| **own == version).count();
        let most = (0..count).map(used).max().expect("versions");
        assert!(most <= 30usize.div_ceil(count) + 2, "{count} versions: one is used {most} times");
    }
}

#[test]
fn without_seats_versions_take_turns() {
    assert_eq!(deal(&[None; 5], &[None; 5], 3).versions, [0, 1, 2, 0, 1]);
}
