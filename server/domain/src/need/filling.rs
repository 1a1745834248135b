//! Which units of a need are filled: by what was cut for it, and by what is promised to it.

use super::Parts;
use crate::quantity::Micrometres;
use std::collections::BTreeMap;

/// How amounts come together to the units of a need.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joining<'p> {
    /// Each unit is one length: what a promise and the cuts from it give, or a single other cut.
    Apart,
    /// Amounts of several pieces add up.
    Joined {
        /// Only those of one lot.
        one_lot: bool,
        /// Each unit has one amount that is no shorter than this, in micrometres.
        longest: Option<i64>,
        /// Parts whose rows go whole into one of them.
        rows: Option<&'p Parts>,
    },
    /// No piece gives two units: reels that run at once.
    PieceEach,
}

/// What one promise and the cuts from it give a need, or one cut without a promise.
///
/// Amounts are what the need asks for: micrometres of washed length, of thread or tape, or a number of trims.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    /// Its piece.
    pub piece: i64,
    /// Its lot.
    pub lot: i64,
    /// What a unit takes of it; of cloth at its own width.
    pub size: i64,
    /// Usable width of cloth when it is cut.
    pub width: Option<i64>,
    /// Cut.
    pub cut: i64,
    /// Promised besides.
    pub promised: i64,
}

/// A unit that is begun and lacks something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Begun {
    /// The lot of its first share.
    pub lot: i64,
    /// What it has.
    pub have: i64,
    /// What it lacks.
    pub missing: i64,
    /// True while no share of it holds the longest part.
    pub lacks_longest: bool,
}

/// How far a need is filled.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filling {
    /// Units that the cuts alone fill, never more than the need has.
    pub cut: i64,
    /// Units that were cut beyond those of the need.
    pub beyond: i64,
    /// Units that each share's promise fills with what is cut and promised before it. Shape: one for each share.
    pub promised: Vec<i64>,
    /// Units that are begun; none where no unit is open.
    pub begun: Vec<Begun>,
    /// Units that are neither cut nor promised whole.
    pub open: i64,
}

impl Filling {
    /// Counts the `units` of a need from its shares, in the order in which the promises were made.
    ///
    /// - Rounding: a unit that lacks a micrometre is not filled.
    ///
    /// ```
    /// use ellwand_domain::need::{Filling, Joining, Share};
    /// // Six lengths of 1 m are promised, and 2 m are cut from them: two are cut, four are left.
    /// let share = Share { piece: 1, lot: 1, size: 1_000_000, width: None, cut: 2_000_000, promised: 4_000_000 };
    /// let filling = Filling::of(6, Joining::Apart, &[share]);
    /// assert_eq!((filling.cut, filling.promised, filling.open), (2, vec![4], 0));
    /// ```
    #[must_use]
    pub fn of(units: i64, joining: Joining<'_>, shares: &[Share]) -> Self {
        let mut filling = Self {
            cut: 0,
            beyond: 0,
            promised: vec![0; shares.len()],
            begun: Vec::new(),
            open: 0,
        };
        let mut cut = 0_i64;
        for group in groups(joining, shares) {
            cut = cut.saturating_add(group.count(&mut filling));
        }
        filling.cut = cut.min(units);
        filling.beyond = cut.saturating_sub(units).max(0);
        let mut open = units.saturating_sub(filling.cut);
        for promised in &mut filling.promised {
            *promised = (*promised).min(open);
            open = open.saturating_sub(*promised);
        }
        filling.open = open;
        let begun = usize::try_from(open).unwrap_or(usize::MAX);
        filling.begun.truncate(begun);
        filling
    }
}

/// Of `lengths` of `size` each, of which `cut` are cut: how many are left whole, and the rest of one that was begun.
#[must_use]
pub fn lengths_left(lengths: i64, size: i64, cut: i64) -> (i64, i64) {
    let left = lengths.saturating_mul(size).saturating_sub(cut).max(0);
    match left.checked_div(size) {
        Some(whole) => (whole, left.saturating_sub(whole.saturating_mul(size))),
        None => (0, 0),
    }
}

/// Shares that come together.
struct Group<'s> {
    shares: Vec<(usize, &'s Share)>,
    size: i64,
    most: i64,
    joined: bool,
    longest: Option<i64>,
    /// Parts in rows, and the narrowest width that they are laid at.
    rows: Option<(&'s Parts, Micrometres)>,
}

fn groups<'s>(joining: Joining<'s>, shares: &'s [Share]) -> Vec<Group<'s>> {
    let mut groups: BTreeMap<i64, Vec<(usize, &Share)>> = BTreeMap::new();
    for (index, share) in shares.iter().enumerate() {
        let key = match joining {
            Joining::Apart => i64::try_from(index).unwrap_or(i64::MAX),
            Joining::Joined { one_lot: true, .. } => share.lot,
            Joining::Joined { one_lot: false, .. } => 0,
            Joining::PieceEach => share.piece,
        };
        groups.entry(key).or_default().push((index, share));
    }
    let (most, longest, rows) = match joining {
        Joining::PieceEach => (1, None, None),
        Joining::Joined { longest, rows, .. } => (i64::MAX, longest, rows),
        Joining::Apart => (i64::MAX, None, None),
    };
    let narrowest = |shares: &[(usize, &Share)]| {
        let width = shares.iter().filter_map(|(_, share)| share.width).min();
        width.and_then(|width| Micrometres::new(width).ok())
    };
    let joined = matches!(joining, Joining::Joined { .. });
    let mut groups: Vec<Group<'_>> = groups
        .into_values()
        .map(|shares| Group {
            size: shares
                .iter()
                .map(|(_, share)| share.size)
                .max()
                .unwrap_or(0),
            rows: rows.zip(narrowest(&shares)),
            shares,
            most,
            joined,
            longest,
        })
        .collect();
    // In the order of the promises: what is begun first is named first.
    groups.sort_by_key(|group| group.shares.first().map(|(index, _)| *index));
    groups
}

impl Group<'_> {
    /// Units in these amounts.
    fn units(&self, amounts: impl Iterator<Item = i64> + Clone) -> i64 {
        let all = amounts.clone().fold(0_i64, i64::saturating_add);
        let holding_longest = self
            .longest
            .map_or(i64::MAX, |longest| self.long(amounts.clone(), longest));
        let units = all
            .checked_div(self.size)
            .unwrap_or(0)
            .min(self.most)
            .min(holding_longest);
        match self.rows {
            None => units,
            Some(_) => (0..=units)
                .rev()
                .find(|units| self.missing(*units, amounts.clone()) == 0)
                .unwrap_or(0),
        }
    }

    /// What is missing to so many units: rows that have no place whole, else what the amounts are short of.
    fn missing(&self, units: i64, amounts: impl Iterator<Item = i64>) -> i64 {
        if let Some((parts, width)) = self.rows {
            let lengths = amounts.map(Micrometres::new).collect::<Result<Vec<_>, _>>();
            let missing = lengths.map(|lengths| parts.missing(units, width, &lengths));
            if let Ok(Ok(missing)) = missing {
                return missing.get();
            }
            return self.size;
        }
        let all = amounts.fold(0_i64, i64::saturating_add);
        units.saturating_mul(self.size).saturating_sub(all).max(0)
    }

    /// How many times these amounts hold the longest part.
    fn long(&self, amounts: impl Iterator<Item = i64>, longest: i64) -> i64 {
        amounts
            .map(|amount| amount.checked_div(longest).unwrap_or(i64::MAX))
            .fold(0, i64::saturating_add)
    }

    /// Counts the units of the group; returns those that are cut.
    fn count(&self, filling: &mut Filling) -> i64 {
        let cut = self.units(self.shares.iter().map(|(_, share)| share.cut));
        let mut before = cut;
        for (at, (index, _)) in self.shares.iter().enumerate() {
            // All that is cut, and the promises up to this one.
            let amounts = self.shares.iter().enumerate().map(|(other, (_, share))| {
                let promised = if other <= at { share.promised } else { 0 };
                share.cut.saturating_add(promised)
            });
            let now = self.units(amounts);
            if let Some(promised) = filling.promised.get_mut(*index) {
                *promised = now.saturating_sub(before);
            }
            before = now;
        }
        filling.begun.extend(self.begun(before));
        cut
    }

    /// What is left beside `units` whole ones, where it joins with what is to come.
    fn begun(&self, units: i64) -> Option<Begun> {
        let amounts = || {
            self.shares
                .iter()
                .map(|(_, share)| share.cut.saturating_add(share.promised))
        };
        let all = amounts().fold(0_i64, i64::saturating_add);
        let have = all.saturating_sub(units.saturating_mul(self.size));
        if !self.joined || have <= 0 {
            return None;
        }
        // A piece for rows must hold the tallest, whichever row it is for.
        let longest = self
            .longest
            .filter(|longest| self.rows.is_some() || self.long(amounts(), *longest) <= units);
        let (_, first) = self.shares.first()?;
        Some(Begun {
            lot: first.lot,
            have,
            missing: self
                .missing(units.saturating_add(1), amounts())
                .max(longest.unwrap_or_default()),
            lacks_longest: longest.is_some(),
        })
    }
}
