//! Selling goods as they are.

use super::{Gone, Leaving, reason, sale};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, invalid},
        perform::Perform,
    },
    money::tax,
    people::parties::{find_or_make_customer, renamed_customer},
};
use ellwand_contract::{
    Problem, ProblemType,
    goods::{GoodsGone, SellGoods},
};
use ellwand_domain::{
    code::CustomerCode,
    ledger::AccountKind,
    pricing::{self, Amounts, GoodsSold, PricingError, TaxLine, TaxRate, TaxRules},
    purchase::{Paid, Price},
    quantity::{Count, Micrometres},
    setting::BookingKind,
};
use ellwand_storage::Sale;

impl Perform for SellGoods {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<GoodsGone, Failure> {
        let why = reason(self.reason.as_ref())?;
        let known = tax::rates(desk)?;
        let rate = tax::named(&known, "tax", self.tax.as_deref())?;
        let leaving = Leaving::open(desk, &self.goods)?;
        let price = price_of(desk, &self.price, &leaving)?;
        let customer = match &self.customer {
            Some(text) => Some(find_or_make_customer(desk, text)?.id),
            None => None,
        };
        let gone = leaving.take(desk, AccountKind::Sold, "sold")?;
        let amounts = taxed(desk, &rate, price)?;
        let row = row(desk, &gone, customer, (&rate, amounts));
        desk.tx.insert_sale(&row)?;
        let to = customer.map_or_else(String::new, |id| format!(" to {}", CustomerCode::new(id)));
        let summary = format!("Sold {}{to}{why}.", gone.named(desk));
        let currency = desk.context.currency;
        let view = sale::view(desk, &row, currency)?;
        let mut answer = gone.book(desk, BookingKind::Sold, summary, Some(view))?;
        answer
            .notes
            .extend(renamed_customer(desk, self.customer.as_ref())?);
        Ok(answer)
    }
}

/// Price of all of it, in minor units; more than zero.
fn price_of(desk: &Desk<'_>, text: &str, leaving: &Leaving<'_>) -> Done<i64> {
    let refuse = |error: String| invalid("price", error);
    let currency = desk.context.currency;
    let price = Price::parse(text, Some(currency)).map_err(|error| refuse(error.to_string()))?;
    if price.currency() != currency {
        let detail = format!("goods are sold in the workshop's currency, {currency}");
        return Err(refuse(detail));
    }
    let quantity = leaving.quantity.get();
    let sold = match leaving.shelved.record.is_counted() {
        true => Paid::Count(Count::new(quantity)?),
        false => Paid::Length(Micrometres::new(quantity)?),
    };
    let minor = price
        .of(Some(sold))
        .map_err(|error| refuse(error.to_string()))?;
    if minor == 0 {
        return Err(
            Problem::from(refuse("a price of zero is no sale".to_owned()))
                .hint("give it away with ellwand give")
                .into(),
        );
    }
    Ok(minor)
}

/// The price with its tax, by the workshop's rules.
fn taxed(desk: &Desk<'_>, rate: &TaxRate, minor: i64) -> Done<Amounts> {
    let workshop = &desk.context.workshop;
    let rules = TaxRules {
        shown: workshop.prices_shown,
        rounding: workshop.tax_rounding,
        place: workshop.tax_place,
    };
    let line = TaxLine {
        amount: desk.context.currency.money(minor),
        rate: rate.name().to_owned(),
    };
    let internal = |error: PricingError| Problem::new(ProblemType::Internal, error.to_string());
    let taxed = pricing::tax(rules, std::slice::from_ref(rate), &[line]).map_err(internal)?;
    Ok(taxed.total)
}

fn row(
    desk: &Desk<'_>,
    gone: &Gone,
    customer: Option<i64>,
    (rate, price): (&TaxRate, Amounts),
) -> Sale {
    let cost = (!gone.shelved.record.lot.unpriced).then_some(gone.cost);
    let sold = GoodsSold::new(price, cost, desk.context.currency.digits());
    let untaxed = rate.name() == tax::UNTAXED;
    Sale {
        booking_id: gone.booking,
        customer_id: customer,
        tax_name: (!untaxed).then(|| rate.name().to_owned()),
        tax_ppm: rate.share().get(),
        net_minor: price.net,
        tax_minor: price.tax,
        gross_minor: price.gross,
        cost_minor: sold.cost,
    }
}
