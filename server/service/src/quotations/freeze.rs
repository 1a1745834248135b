//! What a version keeps for good: both sheets, and what its stages are worked out from.

use super::{ask, internal, made::Made, options, supplement::Agreed};
use crate::{
    context::Context,
    failure::{Done, Failure, invalid},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem,
    options::{OptionFigures, OptionInput},
    quotations::{CustomerSheet, InternalSheet, PriceInput, StageInput},
};
use ellwand_domain::{
    code::GarmentCode,
    pricing::{
        PaidFor, Payable, PriceLineOf, PricesShown, PricingError, Rounding, Schedule, TaxLine,
        TaxPlace, TaxRate, TaxRules, Taxed, tax,
    },
    quantity::{Currency, Money, PartsPerMillion},
    setting::PriceFrom,
};
use ellwand_storage::Tx;
use serde::{Deserialize, Serialize};

/// What was asked for; a new version keeps what is not said anew.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Wish {
    pub(super) from: PriceFrom,
    pub(super) price: PriceInput,
    pub(super) stage: Vec<StageInput>,
    pub(super) terms: Option<String>,
    pub(super) options: Vec<OptionInput>,
    pub(super) plan_is: Option<String>,
    /// The accepted quotation whose change it prices.
    pub(super) supplement_to: Option<i64>,
}

/// A version as it was made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Frozen {
    pub(super) sheet: CustomerSheet,
    pub(super) inside: InternalSheet,
    pub(super) basis: Basis,
    /// What the plan is called beside options; none without.
    pub(super) plan_is: Option<String>,
    pub(super) options: Vec<Offer>,
    pub(super) comparison: Vec<OptionFigures>,
    /// Of a supplement: what is agreed with it.
    pub(super) agreed: Option<Agreed>,
}

/// An option as it was made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Offer {
    pub(super) name: String,
    pub(super) differs: Vec<String>,
    pub(super) sheet: CustomerSheet,
    pub(super) inside: InternalSheet,
    pub(super) basis: Basis,
}

/// Lines and rules that the schedule of payments rests on; minor units.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Basis {
    pub(super) rules: (PricesShown, Rounding, TaxPlace),
    /// Of all lines, where `rates` holds none.
    pub(super) rate: (String, i64),
    /// Names and shares in millionths.
    pub(super) rates: Vec<(String, i64)>,
    /// Shape: one for each line, positions in `rates`.
    pub(super) line_rates: Vec<usize>,
    /// Shape: one for each line.
    pub(super) line_of: Vec<PriceLineOf>,
    /// By which terms the plan was priced.
    pub(super) sold: Option<Sold>,
    pub(super) currency: Currency,
    pub(super) lines: Vec<i64>,
    pub(super) materials: i64,
    pub(super) labour: i64,
    pub(super) stages: Vec<StageInput>,
    /// Step in which cash is paid.
    pub(super) cash_step: Option<i64>,
}

/// The terms of a price as they were asked for.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Sold {
    pub(super) price: PriceInput,
    /// Rates of materials, labour and handling: positions in the rates beside it.
    pub(super) of: [usize; 3],
}

impl Basis {
    /// Rates by name.
    pub(super) fn tax_rates(&self) -> Done<Vec<TaxRate>> {
        let known = if self.rates.is_empty() {
            std::slice::from_ref(&self.rate)
        } else {
            &self.rates
        };
        let rate = |(name, ppm): &(String, i64)| -> Done<TaxRate> {
            TaxRate::new(name, PartsPerMillion::new(*ppm)?).map_err(internal)
        };
        known.iter().map(rate).collect()
    }

    /// The lines with their tax; the same whenever they are asked for.
    fn taxed(&self) -> Done<Taxed> {
        let money = |minor| Money {
            minor,
            currency: self.currency,
        };
        let (shown, rounding, place) = self.rules;
        let rates = self.tax_rates()?;
        let line = |(position, minor): (usize, &i64)| {
            let named = self.line_rates.get(position).and_then(|at| rates.get(*at));
            let rate = named.map_or(self.rate.0.as_str(), TaxRate::name).to_owned();
            TaxLine {
                amount: money(*minor),
                rate,
            }
        };
        let lines: Vec<TaxLine> = self.lines.iter().enumerate().map(line).collect();
        tax(
            TaxRules {
                shown,
                rounding,
                place,
            },
            &rates,
            &lines,
        )
        .map_err(internal)
    }

    /// What is to be paid for the labour and what for the materials, after discounts and with tax.
    pub(super) fn paid_for(&self) -> Done<PaidFor> {
        if self.line_of.is_empty() {
            return Ok(PaidFor {
                materials: self.materials,
                labour: self.labour,
                handling: 0,
            });
        }
        PaidFor::of(&self.taxed()?, &self.line_of).map_err(internal)
    }

    /// The schedule; the same whenever it is asked for.
    pub(super) fn schedule(&self) -> Done<Schedule> {
        let money = |minor| Money {
            minor,
            currency: self.currency,
        };
        let taxed = self.taxed()?;
        let payable = Payable {
            taxed: &taxed,
            labour: money(self.labour),
            materials: money(self.materials),
        };
        let plan = ask::stages(self.currency, &self.stages)?;
        Schedule::build(&payable, &plan).map_err(|error| {
            let sum = matches!(error, PricingError::DoNotSum { .. });
            let refusal = Problem::from(invalid("stage", error.to_string()));
            let hint = "add a last stage without an amount, which takes the rest";
            Failure::from(if sum { refusal.hint(hint) } else { refusal })
        })
    }
}

impl Frozen {
    pub(super) fn make(
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        code: GarmentCode,
        wish: &Wish,
        dates: (NaiveDate, NaiveDate),
    ) -> Done<Self> {
        let Made {
            sheet,
            inside,
            basis,
            figures,
            agreed,
        } = Made::work_out(tx, context, code, wish, dates, &[])?;
        let offers = options::offers(tx, context, code, wish, dates, &inside.costs)?;
        let comparison = match (&wish.plan_is, &figures) {
            (Some(plan), Some(figures)) => {
                options::compared((plan, figures), &inside.not_priced, &offers)?
            }
            _ => Vec::new(),
        };
        let options = offers.into_iter().map(|(offer, _)| offer).collect();
        Ok(Self {
            sheet,
            inside,
            basis,
            plan_is: wish.plan_is.clone(),
            options,
            comparison,
            agreed,
        })
    }

    /// With an option in the place of the plan: what was agreed to.
    pub(super) fn chosen(mut self, option: &str) -> Self {
        if let Some(at) = self.options.iter().position(|offer| offer.name == option) {
            let offer = self.options.swap_remove(at);
            (self.sheet, self.inside, self.basis) = (offer.sheet, offer.inside, offer.basis);
        }
        self
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests {
    use super::{Frozen, Wish};
    use serde_json::{Value, json};

    /// What a program froze that knew neither options nor details (from memory of its forms).
    fn old() -> Value {
        let sheet = json!({
            "title": "jacket", "count": 1, "date": "2026-10-12", "valid_until": "2026-11-11", "currency": "EUR",
            "shown": "without-tax", "lines": [{"text": "Labour", "amount": "668.09", "rate": null}], "rates": [],
            "net": "668.09", "tax": "0.00", "gross": "668.09", "terms": null,
            "stages": [{"name": "on delivery", "terms": "the rest", "due": null, "amount": "668.09", "tax": "0.00"}],
        });
        let cost = json!({
            "group": "own labour", "name": "sewing", "detail": "owner", "quantity": "9 h", "range": null,
            "certainty": "estimated", "cost": "252", "printed": "252.00",
        });
        let inside = json!({
            "from": "plan", "materials_at": "cost", "costs": [cost], "not_priced": [], "net": "668.09", "parts": [],
            "floor": "434.26", "below_floor": null, "profit": "233.83", "markup_percent": "53.85",
            "margin_percent": "35", "own_minutes": 630, "hour_earns": null, "rule": "a margin of 35 %", "notes": [],
        });
        let basis = json!({
            "rules": ["without-tax", "half-up", "rate"], "rate": ["without tax", 0], "currency": "EUR",
            "lines": [66809], "materials": 0, "labour": 66809, "stages": [],
        });
        json!({"sheet": sheet, "inside": inside, "basis": basis})
    }

    #[test]
    fn what_was_frozen_before_there_were_options_is_still_read() {
        let frozen: Frozen = serde_json::from_value(old()).unwrap();
        assert_eq!(
            (
                frozen.plan_is.as_deref(),
                frozen.options.len(),
                frozen.inside.details.len()
            ),
            (None, 0, 0)
        );
        assert_eq!(frozen.inside.costs[0].of_detail, None);
        assert_eq!(frozen.chosen("hand hem").sheet.gross, "668.09");
        let wish = json!({"from": "plan", "price": {"margin": "35%"}, "stage": [], "terms": null});
        assert!(
            serde_json::from_value::<Wish>(wish)
                .unwrap()
                .options
                .is_empty()
        );
    }
}
