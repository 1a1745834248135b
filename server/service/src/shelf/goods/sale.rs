//! What goods were sold for, as it is kept and shown.

use crate::desk::failure::{Done, Failure};
use ellwand_contract::{Problem, ProblemType, goods::Sale};
use ellwand_domain::{
    code::CustomerCode,
    pricing::{Amounts, GoodsSold, TaxRate},
    quantity::{Currency, PartsPerMillion},
};
use ellwand_storage::{Sale as Row, Tx};

/// The sale of a booking.
pub(crate) fn sale(tx: &mut Tx<'_>, booking: i64, currency: Currency) -> Done<Option<Sale>> {
    let Some(row) = tx.sale(booking)? else {
        return Ok(None);
    };
    view(tx, &row, currency).map(Some)
}

/// What was sold for how much.
pub(crate) const fn sold(row: &Row) -> GoodsSold {
    GoodsSold {
        price: Amounts {
            net: row.net_minor,
            tax: row.tax_minor,
            gross: row.gross_minor,
        },
        cost: row.cost_minor,
    }
}

pub(super) fn view(tx: &mut Tx<'_>, row: &Row, currency: Currency) -> Done<Sale> {
    let customer = row.customer_id.map(|id| tx.customer(id)).transpose()?;
    let money = |minor| currency.money(minor).decimal();
    let sold = sold(row);
    let rate = |name: &String| -> Done<String> {
        let rate = TaxRate::new(name, PartsPerMillion::new(row.tax_ppm)?);
        let rate = rate.map_err(|error| {
            Failure::from(Problem::new(ProblemType::Internal, error.to_string()))
        })?;
        Ok(format!("{} {}", rate.name(), rate.share()))
    };
    Ok(Sale {
        customer: row.customer_id.map(CustomerCode::new),
        customer_name: customer.flatten().map(|customer| customer.name),
        tax_rate: row.tax_name.as_ref().map(rate).transpose()?,
        net: money(row.net_minor),
        tax: money(row.tax_minor),
        gross: money(row.gross_minor),
        cost: row.cost_minor.map(money),
        gain: sold.gain().map(money),
    })
}
