//! What every act knows: who asks, when, and the workshop's settings.

use crate::desk::{
    caller::Caller,
    clock,
    failure::{Done, invalid},
};
use chrono::{DateTime, FixedOffset, NaiveDate, NaiveDateTime, Utc};
use chrono_tz::Tz;
use ellwand_contract::{Problem, ProblemType, Sending};
use ellwand_domain::{
    need::CuttingRule,
    quantity::{Currency, Micrometres, Millionths, Money, Units},
    setting::{OffcutValue, PooledMethod, PricesShown, Rounding, TaxPlace, UnitSystem},
};
use ellwand_storage::{Tx, Workshop};
use uuid::Uuid;

/// Years back that a business date may lie: what is older is a slip of the year (a limit of ours).
const OLDEST: u32 = 50;

/// What an act knows.
pub struct Context<'a> {
    pub(crate) caller: &'a Caller,
    /// The request that is answered; nil for a read, which books nothing.
    pub(crate) request: Uuid,
    pub(crate) now: DateTime<Utc>,
    /// The workshop's day.
    pub(crate) today: NaiveDate,
    pub(crate) workshop: Workshop,
    pub(crate) currency: Currency,
}

impl<'a> Context<'a> {
    pub(crate) fn new(tx: &mut Tx<'_>, caller: &'a Caller, now: DateTime<Utc>) -> Done<Self> {
        let workshop = tx.workshop()?;
        Self::with(workshop, caller, (Uuid::nil(), now))
    }

    /// For a write: the clock is asked about where it is in doubt.
    pub(crate) fn writing(
        tx: &mut Tx<'_>,
        caller: &'a Caller,
        (request, now): (Uuid, DateTime<Utc>),
        sending: Sending,
    ) -> Done<Self> {
        let (workshop, last) = tx.workshop_and_last()?;
        clock::is_plausible(now, last.map(|last| last.and_utc()), sending)?;
        Self::with(workshop, caller, (request, now))
    }

    fn with(
        workshop: Option<Workshop>,
        caller: &'a Caller,
        (request, now): (Uuid, DateTime<Utc>),
    ) -> Done<Self> {
        let workshop = workshop.unwrap_or_else(defaults);
        let zone: Tz = workshop.zone.parse().unwrap_or(Tz::UTC);
        let currency = workshop.currency.parse().map_err(|_| {
            Problem::new(
                ProblemType::Internal,
                format!("the book's currency {} is unknown", workshop.currency),
            )
        })?;
        Ok(Self {
            caller,
            request,
            now,
            today: now.with_timezone(&zone).date_naive(),
            workshop,
            currency,
        })
    }

    /// The day in the workshop on which something was booked.
    pub(crate) fn day_of(&self, booked_at: NaiveDateTime) -> NaiveDate {
        let zone: Tz = self.workshop.zone.parse().unwrap_or(Tz::UTC);
        booked_at.and_utc().with_timezone(&zone).date_naive()
    }

    /// When something was booked, as the clock in the workshop had it.
    pub(crate) fn local(&self, booked_at: NaiveDateTime) -> DateTime<FixedOffset> {
        let zone: Tz = self.workshop.zone.parse().unwrap_or(Tz::UTC);
        booked_at.and_utc().with_timezone(&zone).fixed_offset()
    }

    /// The business date of an act: today unless another is given; never in the future.
    pub(crate) fn day(&self, asked: Option<NaiveDate>) -> Done<NaiveDate> {
        let day = asked.unwrap_or(self.today);
        if day > self.today {
            return Err(Problem::new(
                ProblemType::InvalidDate,
                format!(
                    "{day} is in the future: today is {} in the workshop",
                    self.today
                ),
            )
            .field("date")
            .hint("choose today or an earlier day with --date")
            .with("day", day.to_string())
            .with("latest", self.today.to_string())
            .into());
        }
        if self.today.years_since(day) > Some(OLDEST) {
            let detail = format!("{day} is more than {OLDEST} years ago");
            return Err(Problem::new(ProblemType::InvalidDate, detail)
                .field("date")
                .hint("check the year, for example --date 2026-11-02")
                .with("day", day.to_string())
                .into());
        }
        self.is_open(day)?;
        Ok(day)
    }

    /// Refuses a day in books that are closed.
    pub(crate) fn is_open(&self, day: NaiveDate) -> Done<()> {
        let Some(closed) = self.workshop.closed_to.filter(|closed| day <= *closed) else {
            return Ok(());
        };
        Err(Problem::new(
            ProblemType::BooksClosed,
            format!("the books are closed up to {closed}, so nothing can be booked on {day}"),
        )
        .field("date")
        .hint("choose a later day with --date")
        .with("day", day.to_string())
        .with("closed_to", closed.to_string())
        .into())
    }

    /// How the workshop cuts.
    pub(crate) fn rule(&self) -> Done<CuttingRule> {
        Ok(CuttingRule {
            step: Micrometres::new(self.workshop.cutting_step_um)?,
            end_allowance: Micrometres::new(self.workshop.end_allowance_um)?,
        })
    }

    /// Units that people of the workshop read.
    pub(crate) fn units(&self) -> Units {
        match self.workshop.units {
            UnitSystem::Metric => Units::Metric,
            UnitSystem::Imperial => Units::Imperial,
        }
    }

    /// An amount in the workshop's currency, typed by a user; not negative.
    pub(crate) fn home_money(&self, field: &str, text: &str) -> Done<Millionths> {
        let money = Money::parse(text, Some(self.currency))
            .map_err(|error| invalid(field, error.to_string()))?;
        if money.currency != self.currency {
            return Err(invalid(
                field,
                format!(
                    "\"{text}\" is in {}; the workshop's currency is {}",
                    money.currency, self.currency
                ),
            ));
        }
        Ok(money.to_millionths()?)
    }

    /// A value in minor units of the workshop's currency, half up: `85.94`.
    pub(crate) fn printed(&self, value: Millionths) -> String {
        value.rounded(self.currency.digits())
    }
}

/// The workshop's day.
pub(crate) fn today(tx: &mut Tx<'_>, now: DateTime<Utc>) -> Done<NaiveDate> {
    let zone = tx
        .workshop()?
        .and_then(|workshop| workshop.zone.parse().ok());
    Ok(now.with_timezone(&zone.unwrap_or(Tz::UTC)).date_naive())
}

/// Settings of a workshop that has not chosen any: metric, 5 cm steps, 4 cm end allowance (20 mm each end,
/// textile teaching pages; common practice), offcuts from 30 × 20 cm; prices without tax, tax rounded half up per rate.
pub(crate) fn defaults() -> Workshop {
    Workshop {
        id: 1,
        currency: "EUR".to_owned(),
        currency_fixed: false,
        zone: "UTC".to_owned(),
        units: UnitSystem::Metric,
        date_order: None,
        cutting_step_um: 50_000,
        end_allowance_um: 40_000,
        offcut_length_um: 300_000,
        offcut_width_um: 200_000,
        strip_value: OffcutValue::Area,
        pooled_method: PooledMethod::Fifo,
        pooled_method_fixed: false,
        closed_to: None,
        version: 0,
        changed_by: None,
        changed_at: None,
        changed_what: None,
        prices_shown: PricesShown::WithoutTax,
        tax_rounding: Rounding::HalfUp,
        tax_place: TaxPlace::Rate,
        cash_step_minor: None,
        head: "{}".to_owned(),
        price_rule: None,
        words: "{}".to_owned(),
    }
}
