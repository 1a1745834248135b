//! What details take across garments, against what they were worth.

use super::Parts;
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
        page,
        perform::Perform,
    },
    garments::{need::load_head, operation::is_same},
    money::{
        costs,
        rates::{Rates, cost_of},
    },
    people::parties::clean_name,
};
use ellwand_contract::{
    Micro, Problem, ProblemType,
    details::{CostSpread, DetailWorth, Details, ListDetails, MinutesSpread},
};
use ellwand_domain::{
    code::GarmentCode,
    costing::CostItem,
    pricing::{PastDetail, Worth, rated_tenths},
    quantity::{Millionths, Minutes},
    setting::WorkReason,
};
use ellwand_storage::Garment;
use std::cmp::Ordering;

/// Garments that are looked at, when no number is asked for and at most.
const LIMIT: (u32, u32) = (200, 1_000);

/// What was gathered of a detail.
struct Gathered {
    name: String,
    past: Vec<PastDetail>,
    ratings: Vec<i64>,
    unpriced: i64,
}

impl Perform for ListDetails {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Details, Failure> {
        let limit = page::rows(self.limit, LIMIT.0, LIMIT.1)?;
        let only = self
            .detail
            .as_deref()
            .map(|name| clean_name("detail", name))
            .transpose()?;
        let mut ids = desk
            .tx
            .garments_with_detail(only.as_deref(), i64::from(limit).saturating_add(1))?;
        let limit = usize::try_from(limit).unwrap_or(usize::MAX);
        let more = ids.len() > limit;
        ids.truncate(limit);
        let mut gathered: Vec<Gathered> = Vec::new();
        for id in &ids {
            let garment = load_head(desk, GarmentCode::new(*id))?;
            gather(desk, &garment, only.as_deref(), &mut gathered)?;
        }
        let mut details = Vec::with_capacity(gathered.len());
        for of in gathered {
            details.push((Worth::of(&of.past, &of.ratings).map_err(fault)?, of));
        }
        details.sort_by(|(one, _), (other, _)| match (one, other) {
            (Some(one), Some(other)) => one.pays_less(other),
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (None, None) => Ordering::Equal,
        });
        Ok(Details {
            details: details
                .into_iter()
                .map(|(worth, of)| view(worth, of))
                .collect::<Done<_>>()?,
            garments: i64::try_from(ids.len()).unwrap_or(i64::MAX),
            more,
            currency: desk.context.currency.code().to_owned(),
        })
    }
}

fn fault(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}

/// Adds what the details of a garment took and were worth.
fn gather(
    desk: &mut Desk<'_>,
    garment: &Garment,
    only: Option<&str>,
    gathered: &mut Vec<Gathered>,
) -> Done<()> {
    let parts = Parts::read(desk, garment)?;
    let ratings = desk.tx.detail_ratings(garment.id)?;
    // Only needs make it worth to go through what was cut.
    let cut = match parts.needs.iter().any(|need| need.detail.is_some()) {
        true => costs::booked_materials(desk, garment)?.items,
        false => Vec::new(),
    };
    let mut rates = Rates::default();
    for name in parts.names() {
        if only.is_some_and(|only| !is_same(only, &name)) {
            continue;
        }
        let belongs =
            |detail: &Option<String>| detail.as_ref().is_some_and(|detail| is_same(detail, &name));
        let (mut minutes, mut cost, mut unpriced) = (0_i64, Millionths::ZERO, 0_i64);
        for entry in parts.work.iter().filter(|entry| belongs(&entry.detail)) {
            if entry.reason != WorkReason::Planned {
                continue;
            }
            minutes = minutes.saturating_add(entry.minutes);
            match cost_of(desk, &mut rates, entry)? {
                Some(own) => cost = cost.plus(own)?,
                None => unpriced = unpriced.saturating_add(entry.minutes),
            }
        }
        for need in parts.needs.iter().filter(|need| belongs(&need.detail)) {
            let own = |item: &&CostItem| item.loss.is_none() && item.name == need.role;
            cost = cost.plus(CostItem::sum(cut.iter().filter(own))?)?;
        }
        let known = gathered.iter().position(|of| is_same(&of.name, &name));
        let place = known.unwrap_or_else(|| {
            let name = name.clone();
            gathered.push(Gathered {
                name,
                past: Vec::new(),
                ratings: Vec::new(),
                unpriced: 0,
            });
            gathered.len().saturating_sub(1)
        });
        let Some(of) = gathered.get_mut(place) else {
            continue;
        };
        of.unpriced = of.unpriced.saturating_add(unpriced);
        of.ratings.extend(
            ratings
                .iter()
                .filter(|row| is_same(&row.name, &name))
                .map(|row| row.rating),
        );
        // A detail that was only planned took nothing.
        if minutes > 0 || !cost.is_zero() {
            of.past.push(PastDetail {
                minutes: Minutes::new(minutes)?,
                cost,
                garments: garment.count,
            });
        }
    }
    Ok(())
}

fn view(worth: Option<Worth>, of: Gathered) -> Done<DetailWorth> {
    let amount = |amount: i64| Ok::<_, Failure>(Micro(Millionths::new(amount)?));
    let tenths = |tenths: i64| format!("{}.{}", tenths.div_euclid(10), tenths.rem_euclid(10));
    let count = |count: usize| i64::try_from(count).unwrap_or(i64::MAX);
    Ok(DetailWorth {
        garments: count(of.past.len()),
        minutes: worth.map(|worth| MinutesSpread {
            low: worth.minutes.low,
            median: worth.minutes.median,
            high: worth.minutes.high,
        }),
        cost: match worth.map(|worth| worth.cost).filter(|_| of.unpriced == 0) {
            Some(cost) => Some(CostSpread {
                low: amount(cost.low)?,
                median: amount(cost.median)?,
                high: amount(cost.high)?,
            }),
            None => None,
        },
        unpriced_minutes: of.unpriced,
        rated: rated_tenths(&of.ratings).map(tenths),
        ratings: count(of.ratings.len()),
        detail: of.name,
    })
}
