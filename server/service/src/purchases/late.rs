//! Charges and credits that come after the goods.
//!
//! Shared over the lines by the charge's key.

use super::{
    charge::{self, KeptShare, from_json, json},
    conversion, currency_of, day_of,
    gains::Gains,
    line::count_of,
    load_standing,
    rate::{self, Converted},
    reclaim::Reclaim,
    refused, source, view,
};
use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        detail::Detail,
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
    },
    shelf::{materials::within, shelved::LotRecord},
};
use ellwand_contract::{
    Problem, ProblemType,
    purchases::{AddCharge, Purchase},
};
use ellwand_domain::{
    code::{BookingCode, LotCode},
    purchase::{Charge, Conversion, LandedLine, Line, late_share, millionths_from_minor},
    quantity::{Currency, Millionths, Money, Rate},
    setting::BookingKind,
};
use ellwand_storage::{PurchaseCharge, PurchaseLine, Tx};

impl Perform for AddCharge {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Purchase, Failure> {
        let mut row = load_standing(desk, self.purchase)?;
        if row.opening {
            let detail = format!(
                "{} is opening stock, which has no invoice to charge",
                self.purchase
            );
            let lines = desk.tx.purchase_lines(row.id)?;
            let lot = lines.first().map_or(0, |line| line.lot_id);
            let lot = LotCode::new(lot);
            let hint = format!("put what it cost into its value: ellwand lot price {lot} 24.00");
            return Err(wrong_state(detail, &hint));
        }
        let day = day_of(desk.context, self.date, &row)?;
        let invoice = Invoice::load(desk, &row)?;
        let priced = self.priced(desk, &row, &invoice)?;
        let (typed, home) = (&priced.typed, &priced.home);
        self.check_twice(desk, &row, &priced)?;
        let shares = invoice.share(home, desk.context.currency.digits())?;

        let booking = desk.next_booking()?;
        let mut gains = Gains::new(source(&row), day);
        let mut home_value = Millionths::ZERO;
        if typed.is_cost() {
            for (line, share) in invoice.rows.iter().zip(shares) {
                gains.line(desk, line, share)?;
            }
            home_value = millionths_from_minor(home.amount, desk.context.currency.digits())
                .map_err(refused)?;
        }
        row.home_value = row.home_value.saturating_add(home_value.get());
        desk.tx.update_purchase(&row)?;
        desk.tx
            .insert_purchase_charge(&self.row(booking, row.id, &invoice, &priced)?)?;

        let mut entry = Entry::new(
            BookingKind::Charged,
            day,
            self.summary(priced.currency, typed.amount),
        );
        entry.subjects = gains.subjects();
        entry.movements = std::mem::take(&mut gains.movements);
        entry.detail = Detail::Charged {
            from: source(&row),
            shares: std::mem::take(&mut gains.shares),
            home: home_value.get(),
            priced: None,
        };
        desk.book(booking, entry)?;
        let mut answer = view::view(desk, &row)?;
        answer.booking = BookingCode::new(booking);
        answer.notes.extend(gains.note(desk.context));
        Ok(answer)
    }
}

/// A charge as it was typed, and in the workshop's currency.
struct Priced {
    currency: Currency,
    typed: Charge,
    home: Charge,
    reclaim: Reclaim,
}

trait Late {
    fn priced(
        &self,
        desk: &mut Desk<'_>,
        row: &ellwand_storage::Purchase,
        invoice: &Invoice,
    ) -> Done<Priced>;
    fn row(
        &self,
        booking: i64,
        purchase: i64,
        invoice: &Invoice,
        priced: &Priced,
    ) -> Done<PurchaseCharge>;
    fn home(
        &self,
        context: &Context<'_>,
        conversion: Conversion,
        currency: Currency,
        minor: i64,
    ) -> Done<i64>;
    fn summary(&self, currency: Currency, minor: i64) -> String;
    fn check_twice(
        &self,
        tx: &mut Tx<'_>,
        row: &ellwand_storage::Purchase,
        priced: &Priced,
    ) -> Done<()>;
}

impl Late for AddCharge {
    /// Asks about a charge that was added already: the same kind and amount.
    fn check_twice(
        &self,
        tx: &mut Tx<'_>,
        row: &ellwand_storage::Purchase,
        priced: &Priced,
    ) -> Done<()> {
        let code = priced.currency.code();
        let is_same = |known: &PurchaseCharge| {
            known.late
                && known.kind == self.charge.kind
                && known.amount_minor == priced.typed.amount
                && known.currency == code
        };
        let known = tx.purchase_charges(row.id)?.into_iter().find(is_same);
        let Some(known) = known.filter(|_| !self.really) else {
            return Ok(());
        };
        let (kind, money) = (self.charge.kind, priced.currency.money(known.amount_minor));
        let (booking, purchase) = (BookingCode::new(known.booking_id), self.purchase);
        let detail = format!("a {kind} of {money} was already added to {purchase} ({booking})");
        Err(Problem::new(ProblemType::NeedsConfirmation, detail)
            .field("charge")
            .hint("if it came twice, confirm with --really")
            .with("booking", booking.to_string())
            .into())
    }

    fn priced(
        &self,
        desk: &mut Desk<'_>,
        row: &ellwand_storage::Purchase,
        invoice: &Invoice,
    ) -> Done<Priced> {
        let currency = currency_of(desk.context, self.currency.as_deref())?;
        let conversion = conversion(desk.context, currency, self.rate.as_deref())?;
        let inside = |failure| within("charge", failure);
        // As the invoice that it belongs to, whenever it comes.
        let reclaim = Reclaim::of(desk, &self.charge, row.on_date).map_err(inside)?;
        let read = charge::parse_charge(&self.charge, currency, true, &invoice.owned, reclaim);
        let typed = read.map_err(inside)?;
        invoice.check_named(&typed, &row.currency)?;
        let home = Charge {
            amount: self.home(desk.context, conversion, currency, typed.amount)?,
            ..typed.clone()
        };
        let rate = self.rate.as_deref().map(super::rate_of).transpose()?;
        let money = |minor, currency| Money { minor, currency };
        let converted = Converted {
            amount: money(typed.amount, currency),
            home: money(home.amount, desk.context.currency),
            typed: rate.map(Rate::get),
        };
        rate::check(desk, &converted, self.really)?;
        Ok(Priced {
            currency,
            typed,
            home,
            reclaim,
        })
    }

    fn row(
        &self,
        booking: i64,
        purchase: i64,
        invoice: &Invoice,
        priced: &Priced,
    ) -> Done<PurchaseCharge> {
        let digits = priced.currency.digits();
        let own_shares: Vec<i64> = invoice
            .share(&priced.typed, digits)?
            .into_iter()
            .map(|share| share.minor(digits))
            .collect();
        Ok(PurchaseCharge {
            purchase_id: purchase,
            position: invoice.next_position,
            booking_id: booking,
            kind: self.charge.kind,
            amount_minor: priced.typed.amount,
            currency: priced.currency.code().to_owned(),
            share: json(&KeptShare::of(&self.charge))?,
            late: true,
            shares: json(&own_shares)?,
            reclaimed: priced.reclaim.reclaimed,
            reclaim_by: priced.reclaim.by,
            reclaim_from: priced.reclaim.from,
        })
    }

    /// The charge in minor units of the workshop's currency.
    fn home(
        &self,
        context: &Context<'_>,
        conversion: Conversion,
        currency: Currency,
        minor: i64,
    ) -> Done<i64> {
        let home = conversion.convert(minor).map_err(refused)?;
        if home == 0 {
            let typed = Money { minor, currency };
            return Err(invalid(
                "rate",
                format!("{typed} rounds to zero in {}", context.currency),
            ));
        }
        Ok(home)
    }

    fn summary(&self, currency: Currency, minor: i64) -> String {
        let size = Money {
            minor: minor.saturating_abs(),
            currency,
        };
        let what = if minor < 0 { "Credited" } else { "Charged" };
        format!("{what} {size} on {}.", self.purchase)
    }
}

/// The purchase as it was landed.
struct Invoice {
    rows: Vec<PurchaseLine>,
    keys: Vec<Line>,
    landed: Vec<LandedLine>,
    owned: Vec<bool>,
    /// Currencies of the charges so far.
    currencies: Vec<String>,
    next_position: i64,
}

impl Invoice {
    fn load(tx: &mut Tx<'_>, row: &ellwand_storage::Purchase) -> Done<Self> {
        let charges = tx.purchase_charges(row.id)?;
        let mut shares: Vec<Vec<i64>> = Vec::with_capacity(charges.len());
        for charge in &charges {
            shares.push(from_json("the shares of a charge", &charge.shares)?);
        }
        let rows = tx.purchase_lines(row.id)?;
        let (mut keys, mut landed, mut owned) = (Vec::new(), Vec::new(), Vec::new());
        for (index, line) in rows.iter().enumerate() {
            let record = LotRecord::load(tx, line.lot_id)?;
            let counted = record.is_counted();
            owned.push(record.lot.owner_id.is_some());
            keys.push(Line {
                price: (!record.lot.unpriced).then_some(line.price_minor),
                length_um: line.length_um,
                mass_mg: line.mass_mg,
                count: count_of(counted, record.lot.paid.as_deref(), line.quantity),
            });
            landed.push(LandedLine {
                price: line.price_minor,
                shares: shares
                    .iter()
                    .map(|parts| parts.get(index).copied().unwrap_or(0))
                    .collect(),
                invoice_minor: line.amount_minor,
                home: Millionths::new(line.landed)?,
            });
        }
        Ok(Self {
            rows,
            keys,
            landed,
            owned,
            next_position: charges
                .iter()
                .map(|charge| charge.position)
                .max()
                .unwrap_or(0)
                .saturating_add(1),
            currencies: charges.into_iter().map(|charge| charge.currency).collect(),
        })
    }

    /// A taxed amount adds price and shares: they must be in one currency.
    fn check_named(&self, charge: &Charge, invoice: &str) -> Done<()> {
        let ellwand_domain::purchase::Share::TaxedAmount { charges } = &charge.share else {
            return Ok(());
        };
        for position in charges {
            let Some(currency) = self
                .currencies
                .get(*position)
                .filter(|currency| *currency != invoice)
            else {
                continue;
            };
            let number = position.saturating_add(1);
            let detail = format!(
                "charge {number} is in {currency}; the prices are in {invoice}, so they cannot be added"
            );
            return Err(invalid("charge.on", detail));
        }
        Ok(())
    }

    fn share(&self, charge: &Charge, digits: u32) -> Done<Vec<Millionths>> {
        late_share(&self.keys, &self.landed, charge, digits).map_err(|error| {
            // Only one charge is in the request, whatever its number on the purchase is.
            let failure = refused(error);
            match failure {
                Failure::Refused(mut problem) => {
                    let field = problem.field.take().unwrap_or_default();
                    let own = field
                        .split_once("].")
                        .filter(|_| field.starts_with("charge["));
                    problem.field =
                        Some(own.map_or(field.clone(), |(_, name)| format!("charge.{name}")));
                    Failure::Refused(problem)
                }
                stopped @ Failure::Storage(_) => stopped,
            }
        })
    }
}
