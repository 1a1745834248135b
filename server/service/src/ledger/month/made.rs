//! Garments that were finished or delivered, and what an own hour on them earned.

use super::goods::fault;
use crate::{
    desk::{Desk, failure::Done},
    garments::need::load_head,
    money::quotations::{hour_earned, of_garment},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro,
    month::{HourEarned, MonthGarment},
};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode},
    month::{Period, hour_of_all},
    quantity::Millionths,
    setting::BookingKind,
};
use std::collections::BTreeMap;

pub(super) struct Made {
    pub(super) garments: Vec<MonthGarment>,
    pub(super) hour_earned: Option<HourEarned>,
}

impl Made {
    pub(super) fn read(desk: &mut Desk<'_>, period: Period) -> Done<Self> {
        let mut days: BTreeMap<i64, [Option<NaiveDate>; 2]> = BTreeMap::new();
        for (place, kind) in [BookingKind::Finished, BookingKind::Delivered]
            .into_iter()
            .enumerate()
        {
            for act in desk.tx.garments_booked(kind, period.first, period.last)? {
                if let Some(day) = days.entry(act.garment).or_default().get_mut(place) {
                    *day = Some(act.day);
                }
            }
        }
        let mut made = Self {
            garments: Vec::with_capacity(days.len()),
            hour_earned: None,
        };
        let sees = desk.context.caller.sees();
        let mut earned: Vec<(Millionths, i64)> = Vec::new();
        for (id, [finished, delivered]) in days {
            let hour = match finished {
                // Working it out takes longer than all else, so it is not done for readers who may not see it.
                Some(_) if sees.pay_rates && sees.prices => hour_of(desk, id)?,
                _ => None,
            };
            earned.extend(hour);
            let hour = hour.map(|(hour, _)| Micro(hour));
            made.garments
                .push(garment(desk, id, (finished, delivered), hour)?);
        }
        let own_minutes = earned
            .iter()
            .fold(0, |sum: i64, (_, own)| sum.saturating_add(*own));
        let hour = hour_of_all(&earned).map_err(fault)?;
        made.hour_earned = hour.map(|hour| HourEarned {
            per_hour: Micro(hour),
            own_minutes,
            garments: i64::try_from(earned.len()).unwrap_or(i64::MAX),
        });
        Ok(made)
    }
}

fn hour_of(desk: &mut Desk<'_>, garment: i64) -> Done<Option<(Millionths, i64)>> {
    match of_garment::sold_by(desk, garment)? {
        Some(quotation) => hour_earned(desk, &quotation),
        None => Ok(None),
    }
}

fn garment(
    desk: &mut Desk<'_>,
    id: i64,
    (finished, delivered): (Option<NaiveDate>, Option<NaiveDate>),
    hour_earned: Option<Micro>,
) -> Done<MonthGarment> {
    let row = load_head(desk, GarmentCode::new(id))?;
    let customer = match row.customer_id {
        Some(id) => desk.tx.customer(id)?,
        None => None,
    };
    Ok(MonthGarment {
        garment: GarmentCode::new(id),
        name: row.name,
        customer: row.customer_id.map(CustomerCode::new),
        customer_name: customer.map(|customer| customer.name),
        count: row.count,
        good: row.good,
        finished,
        delivered,
        hour_earned,
    })
}
