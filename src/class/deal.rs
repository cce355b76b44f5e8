//! Deals versions to seats. In: seats, and versions that some hold already. Out: a version for each, and neighbours who share one.
//! It must not know what a version is.
//!
//! Neighbours sit beside, before, behind or diagonally. Version `(number + 2 · row) mod n` parts them all from `n = 4` on: the
//! places of two neighbours differ by 1 within a row, and by 1, 2 or 3 across rows, none a multiple of `n`. Fewer versions,
//! or seats that hold one already, are searched through, which finds a way if there is one within a bounded number of steps.

use std::collections::HashMap;

use super::Seat;

/// Steps of the search after which seats are taken to clash.
const MOST_STEPS: usize = 400_000;

/// Who gets which version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deal {
    /// A version for each student, from 0.
    pub versions: Vec<usize>,
    /// Neighbours who share a version, by their places in the list.
    pub clashes: Vec<(usize, usize)>,
}

/// Deals `count` versions to students; `held` are versions that stay. Students without a seat take turns in the list's order.
pub fn deal(seats: &[Option<Seat>], held: &[Option<usize>], count: usize) -> Deal {
    let table = Seating::of(seats);
    let plain: Vec<usize> = (0..seats.len()).map(|index| pattern(seats[index], index, count)).collect();
    let versions = table
        .search(&plain, held, count)
        .unwrap_or_else(|| plain.iter().zip(held).map(|(&plain, held)| held.unwrap_or(plain)).collect());
    let clashes = table.pairs().filter(|&(one, other)| versions[one] == versions[other]).collect();
    Deal { versions, clashes }
}

/// The version that a seat has where nothing speaks against it.
fn pattern(seat: Option<Seat>, index: usize, count: usize) -> usize {
    let place = seat.map_or(index, |seat| seat.number as usize + 2 * (seat.row as usize - 'A' as usize));
    place % count
}

/// Who sits next to whom.
struct Seating {
    /// Students with a seat, row by row.
    order: Vec<usize>,
    /// For each student, the neighbours.
    neighbours: Vec<Vec<usize>>,
}

impl Seating {
    fn of(seats: &[Option<Seat>]) -> Self {
        let taken: HashMap<(u32, u32), usize> =
            seats.iter().enumerate().filter_map(|(index, seat)| Some((place(seat.as_ref()?), index))).collect();
        let around = |seat: &Option<Seat>| {
            let Some((row, number)) = seat.as_ref().map(place) else { return Vec::new() };
            let places = (row.saturating_sub(1)..=row + 1)
                .flat_map(|row| (number.saturating_sub(1)..=number + 1).map(move |number| (row, number)));
            places.filter(|&other| other != (row, number)).filter_map(|other| taken.get(&other).copied()).collect()
        };
        let mut order: Vec<usize> = taken.values().copied().collect();
        order.sort_by_key(|&index| seats[index]);
        Self { order, neighbours: seats.iter().map(around).collect() }
    }

    /// Each pair of neighbours once.
    fn pairs(&self) -> impl Iterator<Item = (usize, usize)> {
        let pairs = self.neighbours.iter().enumerate();
        pairs.flat_map(|(one, others)| others.iter().map(move |&other| (one, other))).filter(|(one, other)| one < other)
    }

    /// Versions that part all neighbours, each as near to the plain pattern as the others allow.
    fn search(&self, plain: &[usize], held: &[Option<usize>], count: usize) -> Option<Vec<usize>> {
        let mut versions: Vec<Option<usize>> = held.to_vec();
        let free: Vec<usize> = self.order.iter().copied().filter(|&index| held[index].is_none()).collect();
        // How far each free seat is from its pattern.
        let mut turned = vec![0; free.len()];
        let (mut at, mut steps) = (0, 0);
        while at < free.len() {
            steps += 1;
            let seat = free[at];
            versions[seat] = None;
            let fits = |&turn: &usize| {
                let version = (plain[seat] + turn) % count;
                self.neighbours[seat].iter().all(|&other| versions[other] != Some(version))
            };
            match (turned[at]..count).find(fits) {
                Some(turn) => {
                    versions[seat] = Some((plain[seat] + turn) % count);
                    turned[at] = turn;
                    at += 1;
                }
                None if at == 0 || steps > MOST_STEPS => return None,
                None => {
                    turned[at] = 0;
                    at -= 1;
                    turned[at] += 1;
                }
            }
        }
        let parted = self.pairs().all(|(one, other)| versions[one].is_none() || versions[one] != versions[other]);
        parted.then(|| versions.iter().zip(plain).map(|(version, &plain)| version.unwrap_or(plain)).collect())
    }
}

fn place(seat: &Seat) -> (u32, u32) {
    (u32::from(seat.row), seat.number)
}
