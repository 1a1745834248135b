//! The price of a lot that came without one, and the corrected one of opening stock, which no invoice says.
//!
//! What it adds is a late charge on its line alone: shared by where the goods are, and taken back like one.

use super::{
    charge::{KeptShare, json},
    day_of,
    gains::Gains,
    line, load_standing,
    rate::{self, Converted},
    rate_of, refused, source, view,
};
use crate::{
    desk::{
        Desk, Entry,
        detail::{Detail, Priced},
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
    },
    shelf::shelved::LotRecord,
};
use ellwand_contract::{
    Problem, ProblemType,
    purchases::{PriceLot, Purchase, ShareKey},
};
use ellwand_domain::{
    code::{BookingCode, CustomerCode, PurchaseCode},
    purchase::{ChargeKind, Paid, millionths_from_minor},
    quantity::{Currency, Money, Rate},
    setting::BookingKind,
};
use ellwand_storage::{PurchaseCharge, PurchaseLine, Subject};

impl Perform for PriceLot {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Purchase, Failure> {
        let mut of = Pricing::load(desk, self)?;
        of.check_open()?;
        let day = day_of(desk.context, self.date, &of.row)?;
        let (minor, home) = of.priced(desk)?;
        let lot = &of.record.lot;
        let before = (!lot.unpriced).then_some(of.own.price_minor);
        if before == Some(minor) && !lot.value_estimated {
            return Err(of.known());
        }
        let (was, home_was) = of.was(desk)?;
        let (more, home) = (minor.saturating_sub(was), home.saturating_sub(home_was));
        let value = millionths_from_minor(home, desk.context.currency.digits()).map_err(refused)?;

        let booking = desk.next_booking()?;
        // Before its share is placed, which reads the line and the lot anew.
        of.own.price_minor = minor;
        desk.tx.update_purchase_line(&of.own)?;
        let mut lot = of.record.lot.clone();
        lot.unpriced = false;
        lot.value_estimated = false;
        desk.tx.update_lot(&lot)?;
        let mut gains = Gains::new(source(&of.row), day);
        gains.line(desk, &of.own, value)?;
        of.row.home_value = of.row.home_value.saturating_add(value.get());
        desk.tx.update_purchase(&of.row)?;
        let charge = of.charge(desk, booking, more)?;
        desk.tx.insert_purchase_charge(&charge)?;

        let (money, name) = (of.money(minor), &of.record.material.name);
        let summary = match before {
            None => format!("Priced {} {name} at {money}.", self.lot),
            Some(_) => format!("Corrected the price of {} {name} to {money}.", self.lot),
        };
        let mut entry = Entry::new(BookingKind::Charged, day, summary);
        entry.subjects = gains.subjects();
        entry.subjects.push((Subject::Lot, lot.id));
        entry.movements = std::mem::take(&mut gains.movements);
        entry.detail = Detail::Charged {
            from: source(&of.row),
            shares: std::mem::take(&mut gains.shares),
            home: value.get(),
            priced: Some(Priced {
                lot: lot.id,
                was: before,
                estimated: of.record.lot.value_estimated,
            }),
        };
        desk.book(booking, entry)?;
        let mut answer = view::view(desk, &of.row)?;
        answer.booking = BookingCode::new(booking);
        answer.notes.extend(gains.note(desk.context));
        Ok(answer)
    }
}

/// What an act on a lot's price rests on.
struct Pricing<'a> {
    act: &'a PriceLot,
    record: LotRecord,
    row: ellwand_storage::Purchase,
    lines: Vec<PurchaseLine>,
    /// The lot's own line.
    own: PurchaseLine,
    currency: Currency,
}

impl<'a> Pricing<'a> {
    fn load(desk: &mut Desk<'_>, act: &'a PriceLot) -> Done<Self> {
        let record = LotRecord::load(desk, act.lot.get())?;
        let row = load_standing(desk, PurchaseCode::new(record.lot.purchase_id))?;
        let lines = desk.tx.purchase_lines(row.id)?;
        let own = lines.iter().find(|line| line.lot_id == record.lot.id);
        let own = own.ok_or_else(|| Problem::new(ProblemType::Internal, "a lot has no line"))?;
        Ok(Self {
            own: own.clone(),
            currency: view::currency(&row.currency)?,
            act,
            record,
            row,
            lines,
        })
    }

    const fn money(&self, minor: i64) -> Money {
        self.currency.money(minor)
    }

    /// Refuses a lot whose price an invoice says, or that has none for it is a customer's.
    fn check_open(&self) -> Done<()> {
        if self.record.lot.unpriced {
            return Ok(());
        }
        let lot = self.act.lot;
        if let Some(owner) = self.record.lot.owner_id {
            let owner = CustomerCode::new(owner);
            let detail = format!("{lot} belongs to {owner}, so it has no price");
            return Err(wrong_state(
                detail,
                "log what the workshop bought as a lot of its own",
            ));
        }
        match self.row.opening {
            true => Ok(()),
            false => Err(self.known()),
        }
    }

    /// The refusal of a price that is known.
    fn known(&self) -> Failure {
        let (lot, purchase) = (self.act.lot, PurchaseCode::new(self.row.id));
        let money = self.money(self.own.price_minor);
        let hint = match self.row.opening {
            true => format!("if that is wrong, give the right one: ellwand lot price {lot} 24.00"),
            false => format!(
                "add what came later with ellwand buy charge {purchase} 'other=5.00,lines={}'",
                self.own.position
            ),
        };
        wrong_state(format!("the price of {lot} is known: {money}"), &hint)
            .naming("lot", lot)
            .naming("purchase", purchase)
    }

    /// The price that is corrected, in minor units of the purchase's currency and of the workshop's; zero where it was not known.
    fn was(&self, desk: &Desk<'_>) -> Done<(i64, i64)> {
        if self.record.lot.unpriced {
            return Ok((0, 0));
        }
        let rate = self.row.rate.as_deref();
        let conversion = super::conversion(desk.context, self.currency, rate)?;
        let minor = self.own.price_minor;
        Ok((minor, conversion.convert(minor).map_err(refused)?))
    }

    /// The price in minor units of the purchase's currency and of the workshop's.
    fn priced(&self, desk: &mut Desk<'_>) -> Done<(i64, i64)> {
        let (act, line) = (self.act, &self.own);
        let counted = self.record.is_counted();
        let paid = self.record.lot.paid.as_deref();
        let paid = paid.and_then(|text| Paid::parse(text, counted).ok());
        let came = match counted {
            true => Paid::parse(&line.quantity.to_string(), true).ok(),
            false => line
                .length_um
                .and_then(|um| um.try_into().ok())
                .map(Paid::Length),
        };
        let minor = line::price_of(&act.price, self.currency, paid.or(came))?.ok_or_else(|| {
            let detail = "give the price: it is unknown already";
            Failure::from(
                Problem::from(invalid("price", detail)).hint("for example 24.00, or 0 for a gift"),
            )
        })?;
        let rate = act.rate.as_deref().or(self.row.rate.as_deref());
        let conversion = super::conversion(desk.context, self.currency, rate)?;
        let home = conversion.convert(minor).map_err(refused)?;
        if home == 0 && minor != 0 {
            let (typed, own) = (self.money(minor), desk.context.currency);
            return Err(invalid("price", format!("{typed} rounds to zero in {own}")));
        }
        let typed = act.rate.as_deref().map(rate_of).transpose()?;
        if let Some(typed) = typed.map(Rate::get) {
            let converted = Converted {
                amount: self.money(minor),
                home: desk.context.currency.money(home),
                typed: Some(typed),
            };
            rate::check(desk, &converted, act.really)?;
        }
        Ok((minor, home))
    }

    /// As the book keeps it, beside the charges.
    fn charge(&self, desk: &mut Desk<'_>, booking: i64, minor: i64) -> Done<PurchaseCharge> {
        let (row, own) = (&self.row, &self.own);
        let known = desk.tx.purchase_charges(row.id)?;
        let last = known.iter().map(|charge| charge.position).max();
        let share = |line: &PurchaseLine| if line.lot_id == own.lot_id { minor } else { 0 };
        let shares: Vec<i64> = self.lines.iter().map(share).collect();
        Ok(PurchaseCharge {
            purchase_id: row.id,
            position: last.unwrap_or(0).saturating_add(1),
            booking_id: booking,
            kind: ChargeKind::Price,
            amount_minor: minor,
            currency: row.currency.clone(),
            share: json(&KeptShare {
                key: ShareKey::Value,
                on: Vec::new(),
                lines: vec![usize::try_from(own.position).unwrap_or(1)],
            })?,
            late: true,
            shares: json(&shares)?,
            reclaimed: false,
            reclaim_by: None,
            reclaim_from: None,
        })
    }
}
