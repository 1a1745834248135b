//! What a version keeps for good: both sheets, and what its stages are worked out from.

use crate::desk::{
    Desk,
    failure::{Done, Failure, invalid},
};
use crate::money::quotations::{ask, internal, made::Made, options, supplement::Agreed};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem,
    options::{OptionFigures, OptionInput},
    quotations::{CustomerSheet, InternalSheet, PriceInput, StageInput},
};
use ellwand_domain::{
    code::GarmentCode,
    pricing::{
        PaidFor, Payable, PriceLine, PriceLineOf, PricesShown, PricingError, Rounding, Schedule,
        TaxLine, TaxPlace, TaxRate, TaxRules, Taxed, tax,
    },
    quantity::{Currency, Money, PartsPerMillion},
    setting::PriceFrom,
};
use serde::{Deserialize, Serialize};

/// What was asked for; a new version keeps what is not said anew.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(in crate::money::quotations) struct Wish {
    pub(in crate::money::quotations) from: PriceFrom,
    pub(in crate::money::quotations) price: PriceInput,
    pub(in crate::money::quotations) stage: Vec<StageInput>,
    pub(in crate::money::quotations) terms: Option<String>,
    pub(in crate::money::quotations) description: Option<String>,
    pub(in crate::money::quotations) delivery: Option<NaiveDate>,
    pub(in crate::money::quotations) options: Vec<OptionInput>,
    pub(in crate::money::quotations) plan_is: Option<String>,
    /// The accepted quotation whose change it prices.
    pub(in crate::money::quotations) supplement_to: Option<i64>,
}

/// A version as it was made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(in crate::money::quotations) struct Frozen {
    pub(in crate::money::quotations) sheet: CustomerSheet,
    pub(in crate::money::quotations) inside: InternalSheet,
    pub(in crate::money::quotations) basis: Basis,
    /// What the plan is called beside options; none without.
    pub(in crate::money::quotations) plan_is: Option<String>,
    pub(in crate::money::quotations) options: Vec<Offer>,
    pub(in crate::money::quotations) comparison: Vec<OptionFigures>,
    /// Of a supplement: what is agreed with it.
    pub(in crate::money::quotations) agreed: Option<Agreed>,
}

/// An option as it was made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(in crate::money::quotations) struct Offer {
    pub(in crate::money::quotations) name: String,
    pub(in crate::money::quotations) differs: Vec<String>,
    pub(in crate::money::quotations) sheet: CustomerSheet,
    pub(in crate::money::quotations) inside: InternalSheet,
    pub(in crate::money::quotations) basis: Basis,
}

/// Lines and rules that the schedule of payments and a later change rest on.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(in crate::money::quotations) struct Basis {
    pub(in crate::money::quotations) rules: Rules,
    /// Names and shares in millionths.
    pub(in crate::money::quotations) rates: Vec<(String, i64)>,
    /// As they are shown, what a total was rounded up by among them.
    pub(in crate::money::quotations) lines: Vec<PriceLine>,
    /// By which terms the plan was priced.
    pub(in crate::money::quotations) sold: Sold,
    pub(in crate::money::quotations) currency: Currency,
    pub(in crate::money::quotations) stages: Vec<StageInput>,
    /// Step in which cash is paid.
    pub(in crate::money::quotations) cash_step: Option<i64>,
}

/// The terms of a price as they were asked for.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(in crate::money::quotations) struct Sold {
    pub(in crate::money::quotations) price: PriceInput,
    /// Rates of materials, labour and handling: positions in the rates beside it.
    pub(in crate::money::quotations) of: [usize; 3],
}

/// Rates by name, of names and shares in millionths.
pub(in crate::money::quotations) fn tax_rates(rates: &[(String, i64)]) -> Done<Vec<TaxRate>> {
    let rate = |(name, ppm): &(String, i64)| -> Done<TaxRate> {
        TaxRate::new(name, PartsPerMillion::new(*ppm)?).map_err(internal)
    };
    rates.iter().map(rate).collect()
}

impl Basis {
    /// What the lines of a kind come to, before discounts.
    pub(in crate::money::quotations) fn shown(&self, of: PriceLineOf) -> Money {
        let own = self.lines.iter().filter(|line| line.of == of);
        let minor = own.fold(0_i64, |sum, line| sum.saturating_add(line.minor));
        self.currency.money(minor.max(0))
    }

    /// The lines with their tax; the same whenever they are asked for.
    fn taxed(&self) -> Done<Taxed> {
        let rates = tax_rates(&self.rates)?;
        taxed(self.rules, self.currency, &rates, &self.lines)
    }

    /// What is to be paid for the labour and what for the materials, after discounts and with tax.
    fn paid_for(&self, taxed: &Taxed) -> Done<PaidFor> {
        let of: Vec<PriceLineOf> = self.lines.iter().map(|line| line.of).collect();
        PaidFor::of(taxed, &of).map_err(internal)
    }

    /// The schedule; the same whenever it is asked for.
    pub(in crate::money::quotations) fn schedule(&self) -> Done<Schedule> {
        let taxed = self.taxed()?;
        let payable = Payable {
            taxed: &taxed,
            labour: self.shown(PriceLineOf::Labour),
            materials: self.shown(PriceLineOf::Materials),
            paid_for: self.paid_for(&taxed)?,
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

/// How prices are shown, how tax is rounded, and where.
pub(in crate::money::quotations) type Rules = (PricesShown, Rounding, TaxPlace);

/// Lines of a price with their tax.
pub(in crate::money::quotations) fn taxed<'l>(
    (shown, rounding, place): Rules,
    currency: Currency,
    rates: &[TaxRate],
    lines: impl IntoIterator<Item = &'l PriceLine>,
) -> Done<Taxed> {
    let line = |line: &PriceLine| {
        let rate = rate_of(rates, line)?.name().to_owned();
        Ok(TaxLine {
            amount: currency.money(line.minor),
            rate,
        })
    };
    let lines: Vec<TaxLine> = lines.into_iter().map(line).collect::<Done<_>>()?;
    let rules = TaxRules {
        shown,
        rounding,
        place,
    };
    tax(rules, rates, &lines).map_err(internal)
}

/// The rate that a line is at.
pub(in crate::money::quotations) fn rate_of<'r>(
    rates: &'r [TaxRate],
    line: &PriceLine,
) -> Done<&'r TaxRate> {
    let rate = rates.get(line.rate);
    rate.ok_or_else(|| internal("a line of a price has no tax rate"))
}

impl Frozen {
    pub(in crate::money::quotations) fn make(
        desk: &mut Desk<'_>,
        code: GarmentCode,
        wish: &Wish,
        dates: (NaiveDate, NaiveDate),
    ) -> Done<Self> {
        let Made {
            sheet,
            inside,
            costs,
            basis,
            figures,
            agreed,
        } = Made::work_out(desk, code, wish, dates, &[])?;
        let offers = options::offers(desk, code, wish, dates, &costs)?;
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
    pub(in crate::money::quotations) fn chosen(mut self, option: &str) -> Self {
        if let Some(at) = self.options.iter().position(|offer| offer.name == option) {
            let offer = self.options.swap_remove(at);
            (self.sheet, self.inside, self.basis) = (offer.sheet, offer.inside, offer.basis);
        }
        self
    }
}
