//! Hours by person, and the overhead that billable hours carry.

use std::collections::{BTreeMap, BTreeSet};

use super::acts::{Act, ActId, Garment};
use super::fraction::{Fraction, ratio, whole};

/// What the hours of a garment cost, in major units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hours {
    /// The pay of each person, paid or own; nothing for hours without a rate.
    pub pay: BTreeMap<ActId, Fraction>,
    /// The part of it that is wages of paid persons.
    pub wages: Fraction,
    /// Overhead on the billable minutes.
    pub overhead: Fraction,
    /// Some hours have no rate: there is no total.
    pub unrated: bool,
}

/// Works out a garment's hours from the acts that stand. `owner` is the person whose rate other own persons
/// take who have none of their own. Once finished, a cost is final: later rates do not reach it.
pub fn hours(
    acts: &[Act],
    undone: &BTreeSet<ActId>,
    owner: Option<ActId>,
    garment: Garment,
) -> Hours {
    let standing: Vec<(ActId, &Act)> = acts
        .iter()
        .enumerate()
        .filter(|(id, _)| !undone.contains(id))
        .collect();
    let finished = standing
        .iter()
        .find(|(_, act)| matches!(act, Act::Finish { garment: of, .. } if *of == garment));
    let last = finished.map_or(acts.len(), |(id, _)| *id);
    let known: Vec<(ActId, &Act)> = standing.into_iter().filter(|(id, _)| *id < last).collect();
    let mut hours = Hours {
        pay: BTreeMap::new(),
        wages: whole(0),
        overhead: whole(0),
        unrated: false,
    };
    for (_, act) in &known {
        let Act::Work {
            garment: of,
            person,
            minutes,
            day,
            billable,
        } = act
        else {
            continue;
        };
        if *of != garment || !billable {
            continue;
        }
        let paid = known
            .iter()
            .any(|(id, act)| id == person && matches!(act, Act::Person { paid: true }));
        let own_rate = rate(&known, *person, *day);
        let taken = if paid {
            own_rate
        } else {
            own_rate.or_else(|| owner.and_then(|owner| rate(&known, owner, *day)))
        };
        match taken {
            Some(rate) => {
                let cost = rate * ratio(*minutes, 60);
                if paid {
                    hours.wages += &cost;
                }
                *hours.pay.entry(*person).or_insert_with(|| whole(0)) += cost;
            }
            None => hours.unrated = true,
        }
        if let Some(rate) = overhead(&known, *day) {
            hours.overhead += rate * ratio(*minutes, 60);
        }
    }
    hours
}

/// The pay per hour of a person on a day: the latest that began by then; a first one without a day began always.
fn rate(known: &[(ActId, &Act)], person: ActId, day: i32) -> Option<Fraction> {
    let rates = known.iter().filter_map(|(id, act)| match act {
        Act::Pay {
            person: of,
            per_hour,
            from,
        } if *of == person => Some((*from, *id, ratio(*per_hour, 10_000))),
        _ => None,
    });
    in_force(rates, day)
}

fn overhead(known: &[(ActId, &Act)], day: i32) -> Option<Fraction> {
    let rates = known.iter().filter_map(|(id, act)| match act {
        Act::Overhead { cost, hours, from } => Some((*from, *id, ratio(*cost, hours * 100))),
        _ => None,
    });
    in_force(rates, day)
}

fn in_force(
    rates: impl Iterator<Item = (Option<i32>, ActId, Fraction)>,
    day: i32,
) -> Option<Fraction> {
    rates
        .filter(|(from, _, _)| from.is_none_or(|from| from <= day))
        .max_by_key(|(from, id, _)| (*from, *id))
        .map(|(_, _, rate)| rate)
}
