//! What was quoted, accepted and paid in a period, and what is owed at its end.

use crate::{
    desk::{Desk, failure::Done},
    garments::need::load_head,
    shelf::goods,
};
use ellwand_contract::month::{GoodsSold, MonthMoney, MonthSum, Owed};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode, QuotationCode},
    month::Period,
    pricing::{self, SoldSum},
};
use ellwand_storage::{OwedOn, QuotedSum};

pub(super) fn money(desk: &mut Desk<'_>, period: Period) -> Done<MonthMoney> {
    let (first, last) = (period.first, period.last);
    let currency = desk.context.currency;
    let sum = |count: i64, minor: i64| MonthSum {
        count,
        amount: currency.money(minor).decimal(),
    };
    let of = |rows: &[QuotedSum]| {
        let minor = rows
            .iter()
            .fold(0, |sum: i64, row| sum.saturating_add(row.minor));
        sum(i64::try_from(rows.len()).unwrap_or(i64::MAX), minor)
    };
    let quoted = of(&desk.tx.quoted_between(first, last)?);
    let accepted = of(&desk.tx.accepted_between(first, last)?);
    let paid = desk.tx.paid_between(first, last)?;
    let goods = desk.tx.sold_between(first, last)?;
    let goods: SoldSum = goods.iter().map(goods::sold).collect();
    let (mut owed, mut in_all) = (Vec::new(), 0_i64);
    for row in desk.tx.owed_on(last)? {
        let left = pricing::owed([(row.agreed, row.settled)]);
        if left > 0 {
            in_all = in_all.saturating_add(left);
            owed.push(of_quotation(desk, row, left)?);
        }
    }
    Ok(MonthMoney {
        quoted,
        accepted,
        paid: sum(paid.count, paid.minor),
        goods_sold: GoodsSold {
            count: goods.count,
            amount: currency.money(goods.gross).decimal(),
            gain: currency.money(goods.gain).decimal(),
            unpriced: goods.unpriced,
        },
        owed,
        owed_in_all: currency.money(in_all).decimal(),
    })
}

fn of_quotation(desk: &mut Desk<'_>, row: OwedOn, left: i64) -> Done<Owed> {
    let garment = GarmentCode::new(row.garment);
    let customer = match row.customer {
        Some(id) => desk.tx.customer(id)?,
        None => None,
    };
    Ok(Owed {
        quotation: QuotationCode::new(row.quotation),
        garment,
        name: load_head(desk, garment)?.name,
        customer: row.customer.map(CustomerCode::new),
        customer_name: customer.map(|customer| customer.name),
        amount: desk.context.currency.money(left).decimal(),
    })
}
