//! The workshop's settings and rates. What is set is booked, and moves nothing in the ledger.

mod cash;
mod final_cost;
mod heading;
pub(crate) mod kept;
mod logo;
pub(crate) mod operations;
pub(crate) mod pay;
mod reclaim;
mod words;

use crate::desk::{
    Desk, Entry,
    context::Context,
    counter,
    failure::{Done, Failure, invalid, not_found, wrong_state},
    perform::Perform,
    trace::Traced,
    version,
};
use chrono::NaiveDate;
use chrono_tz::Tz;
use ellwand_contract::{
    Metres, Micro, Problem, ProblemType, Typed, json,
    workshop::{
        CloseBooks, GetWorkshop, HousePriceRule, OverheadRate, SetOverheadRate, SetTaxRate,
        SetWorkshop, TaxRate, Workshop,
    },
};
use ellwand_domain::{
    costing::{BEGINNING, HourlyCost},
    pricing,
    quantity::{Currency, HourlyRate, Micrometres, Millionths, Minutes, PartsPerMillion, Units},
    setting::{BookingKind, Facet},
};
use ellwand_storage::Tx;

pub(crate) use final_cost::FinalCosts;
pub(crate) use heading::sender;
pub(crate) use kept::Sets;
pub(crate) use words::words;

/// Longest cutting step and end allowance: more is a slip of the unit.
const LONGEST_STEP: Micrometres = Micrometres::from_mm(2_000);
/// Largest offcut that may count as waste.
const LARGEST_OFFCUT: Micrometres = Micrometres::from_mm(10_000);
/// What a closing of the books changes.
pub(crate) const CLOSING: &str = "closing of the books";

impl Perform for GetWorkshop {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Workshop, Failure> {
        let context = desk.context;
        view(desk, &context.workshop)
    }
}

impl Sets for SetWorkshop {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Workshop> {
        let before = &desk.context.workshop;
        if let Some(asked) = self.if_version.filter(|asked| *asked != before.version) {
            return Err(changed_since(before, asked));
        }
        let mut workshop = before.clone();
        let currency = currency(desk.context, self.currency.as_deref())?;
        workshop.currency = currency.code().to_owned();
        workshop.cash_step_minor = cash::asked(
            workshop.cash_step_minor,
            self.cash_step.as_deref(),
            (desk.context.currency, currency),
        )?;
        if let Some(zone) = &self.zone {
            let zone: Tz = zone.trim().parse().map_err(|_| {
                Problem::from(invalid(
                    "zone",
                    format!("\"{zone}\" is not a time zone of the IANA list"),
                ))
                .hint("use a name such as --zone Europe/Vienna or UTC")
            })?;
            workshop.zone = zone.name().to_owned();
        }
        if let Some(method) = self.pooled_method {
            if workshop.pooled_method_fixed && method != workshop.pooled_method {
                return Err(wrong_state(
                    format!(
                        "thread and trims are valued by {}: some have been received",
                        workshop.pooled_method
                    ),
                    "keep to one method, as IAS 2 asks",
                ));
            }
            workshop.pooled_method = method;
        }
        lengths(&mut workshop, self)?;
        workshop.units = self.units.unwrap_or(workshop.units);
        workshop.strip_value = self.strip_value.unwrap_or(workshop.strip_value);
        workshop.prices_shown = self.prices_shown.unwrap_or(workshop.prices_shown);
        workshop.tax_rounding = self.tax_rounding.unwrap_or(workshop.tax_rounding);
        workshop.date_order = self.date_order.or(workshop.date_order);
        workshop.tax_place = self.tax_place.unwrap_or(workshop.tax_place);
        let head = sender(before)?;
        let mut asked = heading::changed(&head, self)?;
        if let Some(picture) = &self.logo {
            asked.logo = logo::keep(desk, picture)?;
        }
        if asked != head {
            workshop.head = json::write(&asked).map_err(fault)?;
        }
        if workshop == *before {
            return view(desk, before);
        }
        let what = kept::differing(before, &workshop)?;
        change(desk, workshop, &what)
    }
}

/// The currency to count in; the one there is, once something is in it.
fn currency(context: &Context<'_>, typed: Option<&str>) -> Done<Currency> {
    let Some(text) = typed else {
        return Ok(context.currency);
    };
    let currency = text
        .parse()
        .map_err(|error| invalid("currency", format!("{error}")))?;
    if context.workshop.currency_fixed && currency != context.currency {
        let detail = format!(
            "the workshop's currency is {}: purchases or quotations use it",
            context.currency
        );
        return Err(wrong_state(
            detail,
            "keep the currency, or begin a new book",
        ));
    }
    Ok(currency)
}

fn lengths(workshop: &mut ellwand_storage::Workshop, asked: &SetWorkshop) -> Done<()> {
    let step = LONGEST_STEP;
    let offcut = LARGEST_OFFCUT;
    for (um, field, typed, most) in [
        (
            &mut workshop.cutting_step_um,
            "cutting_step",
            &asked.cutting_step,
            step,
        ),
        (
            &mut workshop.end_allowance_um,
            "end_allowance",
            &asked.end_allowance,
            step,
        ),
        (
            &mut workshop.offcut_length_um,
            "offcut_length",
            &asked.offcut_length,
            offcut,
        ),
        (
            &mut workshop.offcut_width_um,
            "offcut_width",
            &asked.offcut_width,
            offcut,
        ),
    ] {
        set(um, field, typed.as_ref(), most)?;
    }
    Ok(())
}

/// Saves the settings as a new version and shows them.
pub(crate) fn change(
    desk: &mut Desk<'_>,
    workshop: ellwand_storage::Workshop,
    what: &str,
) -> Done<Workshop> {
    let workshop = save(desk, workshop, what)?;
    view(desk, &workshop)
}

/// Saves the settings as a new version, with who changed what.
pub(crate) fn save(
    desk: &mut Desk<'_>,
    mut workshop: ellwand_storage::Workshop,
    what: &str,
) -> Done<ellwand_storage::Workshop> {
    workshop.version += 1;
    workshop.changed_by = Some(desk.context.caller.name.clone());
    workshop.changed_at = Some(desk.context.now.naive_utc());
    workshop.changed_what = Some(what.to_owned());
    desk.tx.save_workshop(&workshop)?;
    Ok(workshop)
}

/// Tells who changed the settings last; the changes before that one are not kept.
fn changed_since(now: &ellwand_storage::Workshop, asked: i64) -> Failure {
    let last = match (&now.changed_by, &now.changed_what, now.changed_at) {
        (Some(by), Some(what), Some(at)) if asked < now.version => {
            format!(
                "; last {by} changed the {what}, at {} UTC",
                at.format("%Y-%m-%d %H:%M")
            )
        }
        _ => String::new(),
    };
    let detail = format!(
        "the settings are at version {}, not {asked}{last}",
        now.version
    );
    version::changed(detail, now.version.to_string())
}

impl Perform for CloseBooks {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Workshop, Failure> {
        let (to, before) = (self.to, desk.context.workshop.closed_to);
        if to >= desk.context.today {
            let detail = format!(
                "{to} is not over: today is {} in the workshop",
                desk.context.today
            );
            return Err(Problem::new(ProblemType::InvalidDate, detail)
                .field("to")
                .hint("close up to a day that has passed: ellwand workshop close 2026-09-30")
                .with("day", to.to_string())
                .with("today", desk.context.today.to_string())
                .into());
        }
        if let Some(closed) = before.filter(|closed| to <= *closed) {
            return Err(Problem::new(
                ProblemType::InvalidDate,
                format!("the books are closed up to {closed} already"),
            )
            .field("to")
            .hint("choose a later day; to open days again, undo the closing with ellwand undo")
            .with("day", to.to_string())
            .with("closed_to", closed.to_string())
            .into());
        }
        let booking = desk.next_booking()?;
        let mut entry = Entry::new(
            BookingKind::Closed,
            desk.context.today,
            format!("Closed the books up to {to}."),
        );
        entry.traces.push(Traced::wrote(Facet::Books, 0, &before)?);
        desk.book(booking, entry)?;
        let workshop = ellwand_storage::Workshop {
            closed_to: Some(to),
            ..desk.context.workshop.clone()
        };
        change(desk, workshop, CLOSING)
    }
}

fn set(
    um: &mut i64,
    field: &str,
    typed: Option<&Typed<Micrometres>>,
    longest: Micrometres,
) -> Done<()> {
    let Some(typed) = typed else { return Ok(()) };
    if typed.value() > longest {
        let limit = longest.show(Units::Metric);
        return Err(invalid(
            field,
            format!(
                "\"{}\" is more than a workshop uses; {limit} is the most",
                typed.text()
            ),
        )
        .with("wanted_um", typed.value().get())
        .with("most_um", longest.get()));
    }
    *um = typed.value().get();
    Ok(())
}

impl Sets for SetTaxRate {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Workshop> {
        let name = crate::people::parties::clean_name("name", &self.name)?;
        match &self.rate {
            Some(text) => {
                let rate = pricing::TaxRate::parse(&name, text);
                let rate = rate.map_err(|error| invalid("rate", error.to_string()))?;
                check_rate(text, rate.share(), self.really)?;
                let id = desk.tx.next_numbers(counter::RATE, 1)?;
                desk.tx.save_tax_rate(&ellwand_storage::TaxRate {
                    id,
                    name,
                    ppm: rate.share().get(),
                })?;
            }
            None if desk.tx.delete_tax_rate(&name)? => {}
            None => {
                return Err(not_found(
                    format!("tax rate \"{name}\""),
                    "see ellwand workshop for those there are",
                ));
            }
        }
        change(desk, desk.context.workshop.clone(), "tax rates")
    }
}

/// Above 50 % a rate is believed once it is confirmed: no tax on sales is half of the price (common practice).
fn check_rate(text: &str, share: PartsPerMillion, really: bool) -> Done<()> {
    if really || share <= PartsPerMillion::from_percent(50) {
        return Ok(());
    }
    let detail = format!("a tax of {text} is more than half of the price");
    Err(Problem::new(ProblemType::NeedsConfirmation, detail)
        .field("rate")
        .hint("check the rate, for example 20%; if it is right, confirm with --really")
        .with("wanted_ppm", share.get())
        .into())
}

impl Sets for SetOverheadRate {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Workshop> {
        let rate = match &self.hours {
            None => {
                let per_hour: HourlyRate = self
                    .amount
                    .parse()
                    .map_err(|error| invalid("amount", format!("{error}")))?;
                HourlyCost::per_hour(per_hour.get())
            }
            Some(hours) => {
                let amount = desk.context.home_money("amount", &self.amount)?;
                let minutes: Minutes = hours
                    .parse()
                    .map_err(|error| invalid("hours", format!("{error}")))?;
                HourlyCost::over(amount, minutes.get())
            }
        };
        let rate = rate.map_err(|error| {
            Problem::from(invalid("hours", error.to_string()))
                .hint("give the billable hours of the period, such as 1104h")
        })?;
        let row = ellwand_storage::OverheadRate {
            id: desk.tx.next_numbers(counter::RATE, 1)?,
            amount: rate.amount().get(),
            minutes: rate.minutes(),
            from_date: counts_from(
                desk.context,
                self.from,
                desk.tx.overhead_rates()?.is_empty(),
            ),
        };
        costs_from(desk.context, row.from_date)?;
        let before = FinalCosts::read(desk, row.from_date)?;
        desk.tx.save_overhead_rate(&row)?;
        before.unchanged(desk, self.really)?;
        change(desk, desk.context.workshop.clone(), "overhead rate")
    }
}

/// From when a rate counts. A first one that names no day holds from the beginning, so that earlier hours have a price, too, but
/// not into closed books; a later one from today.
pub(crate) fn counts_from(
    context: &Context<'_>,
    asked: Option<NaiveDate>,
    first: bool,
) -> NaiveDate {
    match asked {
        Some(day) => day,
        None if first => context
            .workshop
            .closed_to
            .and_then(|day| day.succ_opt())
            .unwrap_or(BEGINNING),
        None => context.today,
    }
}

/// The day from which a rate counts, for people.
pub(crate) fn since(day: NaiveDate) -> String {
    if day == BEGINNING {
        "the beginning".to_owned()
    } else {
        day.to_string()
    }
}

/// Refuses a rate that would change what hours in closed books cost.
pub(crate) fn costs_from(context: &Context<'_>, from: NaiveDate) -> Done<()> {
    settles(context, from, "from", "choose a later first day")
}

/// Refuses a setting that would change what a day in closed books says.
pub(crate) fn settles(context: &Context<'_>, day: NaiveDate, field: &str, hint: &str) -> Done<()> {
    context.is_open(day).map_err(|failure| match failure {
        Failure::Refused(problem) => problem.field(field).hint(hint).into(),
        stopped @ Failure::Storage(_) => stopped,
    })
}

fn view(tx: &mut Tx<'_>, workshop: &ellwand_storage::Workshop) -> Done<Workshop> {
    let metres = |um: i64| Micrometres::new(um).map(Metres);
    let pay_rates = pay::view(tx)?;
    let mut overhead_rates = Vec::new();
    for rate in tx.overhead_rates()? {
        let amount = Micro(Millionths::new(rate.amount)?);
        overhead_rates.push(OverheadRate {
            amount,
            minutes: rate.minutes,
            from: rate.from_date,
        });
    }
    let mut tax_rates = Vec::new();
    for rate in tx.tax_rates()? {
        tax_rates.push(TaxRate {
            name: rate.name,
            percent: PartsPerMillion::new(rate.ppm)?.decimal(),
        });
    }
    let tax_reclaims = reclaim::view(tx)?;
    let currency: Currency = workshop.currency.parse().map_err(fault)?;
    Ok(Workshop {
        currency: workshop.currency.clone(),
        currency_fixed: workshop.currency_fixed,
        zone: workshop.zone.clone(),
        units: workshop.units,
        date_order: workshop.date_order,
        cutting_step_m: metres(workshop.cutting_step_um)?,
        end_allowance_m: metres(workshop.end_allowance_um)?,
        offcut_length_m: metres(workshop.offcut_length_um)?,
        offcut_width_m: metres(workshop.offcut_width_um)?,
        strip_value: workshop.strip_value,
        pooled_method: workshop.pooled_method,
        prices_shown: workshop.prices_shown,
        tax_rounding: workshop.tax_rounding,
        tax_place: workshop.tax_place,
        cash_step: cash::view(workshop.cash_step_minor, currency),
        sender: sender(workshop)?,
        words: words(workshop)?,
        price_rule: price_rule(workshop)?,
        tax_rates,
        tax_reclaims,
        pay_rates,
        overhead_rates,
        rates_shown: true,
        closed_to: workshop.closed_to,
        version: workshop.version,
    })
}

/// How prices are made where nothing is said.
pub(crate) fn price_rule(workshop: &ellwand_storage::Workshop) -> Done<Option<HousePriceRule>> {
    let kept = workshop.price_rule.as_deref();
    kept.map(json::read).transpose().map_err(fault)
}

/// What was accepted once can be read.
fn fault(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}
