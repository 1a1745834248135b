//! Charges and credits that come after the goods.
//!
//! Shared over the lines by the charge's key; a line's share goes to what is still here of its lot, by the value
//! that went there, and the rest to an adjustment. A credit never takes more from a place than it is worth.

use super::{
    charge::{self, KeptShare, from_json, json},
    conversion, currency_of,
    line::count_of,
    load,
    rate::{self, Converted},
    reclaim::Reclaim,
    refused, view,
};
use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        detail::{ChargeShare, Detail},
        failure::{Done, Failure, invalid, too_early},
        perform::Perform,
    },
    shelf::{
        lots::went::{self, Places},
        materials::within,
        pools,
        shelved::{LotRecord, Shelved},
    },
};
use chrono::NaiveDate;
use ellwand_contract::purchases::{AddCharge, Purchase};
use ellwand_domain::{
    code::BookingCode,
    layer::WHOLE,
    ledger::{Account, AccountKind, Movement, Quantity},
    purchase::{
        Charge, Conversion, LandedLine, Line, late_share, millionths_from_minor, spread_late,
    },
    quantity::{Currency, Millionths, Money, Rate},
    setting::{BookingKind, GarmentState},
};
use ellwand_storage::{Layer, PurchaseCharge, PurchaseLine, Subject, Tx};

impl Perform for AddCharge {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Purchase, Failure> {
        let mut row = load(desk, self.purchase)?;
        if let Some(undo) = row.undone_by {
            let undo = BookingCode::new(undo);
            let detail = format!("{} was taken back by {undo}", self.purchase);
            return Err(
                crate::desk::failure::wrong_state(detail, "log the purchase again")
                    .naming("purchase", self.purchase)
                    .naming("booking", undo),
            );
        }
        let day = self.day(desk.context, &row)?;
        let invoice = Invoice::load(desk, &row)?;
        let priced = self.priced(desk, &row, &invoice)?;
        let (typed, home) = (&priced.typed, &priced.home);
        let shares = invoice.share(home, desk.context.currency.digits())?;

        let booking = desk.next_booking()?;
        let mut gains = Gains {
            purchase: row.id,
            day,
            movements: Vec::new(),
            shares: Vec::new(),
            gone: Millionths::ZERO,
        };
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
        entry.movements = gains.movements;
        entry.detail = Detail::Charged {
            purchase: row.id,
            shares: gains.shares,
            home: home_value.get(),
        };
        desk.book(booking, entry)?;
        let mut answer = view::view(desk, &row)?;
        answer.booking = BookingCode::new(booking);
        if !gains.gone.is_zero() {
            let gone = format!(
                "{} {}",
                desk.context.printed(gains.gone),
                desk.context.currency
            );
            answer.notes.push(format!(
                "{gone} of it is for what is no longer here, and is booked as an adjustment"
            ));
        }
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
    fn day(&self, context: &Context<'_>, row: &ellwand_storage::Purchase) -> Done<NaiveDate>;
    fn home(
        &self,
        context: &Context<'_>,
        conversion: Conversion,
        currency: Currency,
        minor: i64,
    ) -> Done<i64>;
    fn summary(&self, currency: Currency, minor: i64) -> String;
}

impl Late for AddCharge {
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

    fn day(&self, context: &Context<'_>, row: &ellwand_storage::Purchase) -> Done<NaiveDate> {
        let day = context.day(self.date)?;
        if day >= row.on_date {
            return Ok(day);
        }
        let detail = format!(
            "{} had not come in on {day}: it came in on {}",
            self.purchase, row.on_date
        );
        Err(too_early(detail, day, row.on_date))
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
                price: line.price_minor,
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

/// What the charge brings, line by line.
struct Gains {
    purchase: i64,
    day: NaiveDate,
    movements: Vec<Movement>,
    shares: Vec<ChargeShare>,
    /// What went to the adjustment.
    gone: Millionths,
}

impl Gains {
    fn line(&mut self, tx: &mut Tx<'_>, line: &PurchaseLine, share: Millionths) -> Done<()> {
        if share.is_zero() {
            return Ok(());
        }
        let record = LotRecord::load(tx, line.lot_id)?;
        let mut lot = record.lot.clone();
        let mut row = line.clone();
        row.landed = row.landed.saturating_add(share.get());
        if row.landed < 0 {
            let cost = Millionths::new(line.landed)?.decimal();
            let detail = format!(
                "line {} cost {cost}; a credit cannot take off more",
                line.position
            );
            return Err(invalid("charge.amount", detail)
                .with("line", line.position)
                .with("most_millionths", line.landed));
        }
        let (here, whole) = still_here(tx, &record, line)?;
        let spread = spread_late(share, &here, whole).map_err(refused)?;
        let mut adjustment = spread.adjustment;
        for (place, part) in spread.parts {
            adjustment = adjustment.plus(self.place(tx, line.lot_id, place, part)?)?;
        }
        let gone = Account::new(AccountKind::Adjustment, 0);
        self.movement(line.lot_id, gone, adjustment);
        self.gone = self.gone.plus(adjustment)?;
        lot.landed = row.landed;
        tx.update_lot(&lot)?;
        tx.update_purchase_line(&row)?;
        Ok(())
    }

    fn movement(&mut self, lot: i64, place: Account, value: Millionths) {
        let share = ChargeShare {
            lot,
            place,
            value: value.get(),
        };
        let supplier = Account::new(AccountKind::Supplier, self.purchase);
        let (from, to, value) = if value.get() < 0 {
            (place, supplier, value.negated())
        } else {
            (supplier, place, value)
        };
        if !value.is_zero() {
            self.shares.push(share);
            self.movements
                .push(Movement::new(from, to, Quantity::ZERO, value));
        }
    }

    /// Adds a part to a place, or takes a credit from it as far as it is worth that; gives back what did not fit.
    fn place(
        &mut self,
        tx: &mut Tx<'_>,
        lot: i64,
        place: Account,
        part: Millionths,
    ) -> Done<Millionths> {
        let fits = |worth: i64| Millionths::new(part.get().max(worth.saturating_neg()));
        let taken = match place.kind {
            AccountKind::Piece => {
                let mut shelved = Shelved::load_row(tx, place.id)?;
                let piece = &mut shelved.stored.piece;
                let taken = fits(piece.value.get())?;
                piece.value = piece.value.plus(taken)?;
                shelved.save(tx, self.day)?;
                taken
            }
            AccountKind::Layer => {
                let Some(mut layer) = tx.layer(place.id)? else {
                    return Ok(part);
                };
                let taken = fits(layer.value)?;
                layer.value = layer.value.saturating_add(taken.get());
                tx.save_layer(&layer)?;
                taken
            }
            _ => {
                let mut worth = 0_i64;
                for (stored, _) in tx.movements_at(place)? {
                    let value = stored.movement.value.get();
                    worth = worth.saturating_add(if stored.movement.to == place {
                        value
                    } else {
                        -value
                    });
                }
                // An earlier line of this charge may have reached the same garment.
                for movement in &self.movements {
                    let value = movement.value.get();
                    worth = worth.saturating_add(
                        match (movement.to == place, movement.from == place) {
                            (true, _) => value,
                            (_, true) => -value,
                            _ => 0,
                        },
                    );
                }
                fits(worth.max(0))?
            }
        };
        self.movement(lot, place, taken);
        Ok(part.minus(taken)?)
    }

    fn subjects(&self) -> Vec<(Subject, i64)> {
        let mut subjects = vec![(Subject::Purchase, self.purchase)];
        subjects.extend(self.shares.iter().map(|share| (Subject::Lot, share.lot)));
        for movement in &self.movements {
            for place in [movement.from, movement.to] {
                if place.kind == AccountKind::Garment {
                    subjects.push((Subject::Garment, place.id));
                }
            }
        }
        subjects
    }
}

/// What is still here of a lot, each with its weight, and the weight of all of it.
///
/// The weight is the value that went there, which follows the cloth through shrinkage and strips; of a lot that
/// cost nothing it is the quantity. Of a pool, in which lots melt into one, it is the receipt's share.
fn still_here(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    line: &PurchaseLine,
) -> Done<(Vec<(Account, i128)>, i128)> {
    let layers = tx.layers(record.material.id)?;
    let holders = if record.kind().is_rectangle() {
        went::on_shelf(&tx.pieces_of_lot(record.lot.id)?)
    } else {
        match layers
            .iter()
            .find(|layer| layer.lot_id == Some(record.lot.id))
        {
            Some(own) => vec![(
                Account::layer(own.id),
                Places {
                    value: own.value,
                    quantity: own.quantity,
                },
            )],
            None => return in_pool(tx, &layers, record.lot.id),
        }
    };
    let accounts: Vec<Account> = holders.iter().map(|(account, _)| *account).collect();
    let mut here = holders;
    for (account, went) in went::flows(tx, &record.lot, &accounts)? {
        if account.kind == AccountKind::Garment && unfinished(tx, account.id)? {
            here.push((account, went));
        }
    }
    let by_value = line.landed > 0;
    let weight = |places: &Places| {
        i128::from(if by_value {
            places.value
        } else {
            places.quantity
        })
        .max(0)
    };
    let here: Vec<(Account, i128)> = here
        .iter()
        .map(|(account, places)| (*account, weight(places)))
        .collect();
    let sum = here
        .iter()
        .fold(0_i128, |sum, (_, weight)| sum.saturating_add(*weight));
    let whole = i128::from(if by_value { line.landed } else { line.quantity });
    Ok((here, whole.max(sum)))
}

/// What is still here of a lot that came into a pool: its share there, and what unfinished garments took of it.
fn in_pool(tx: &mut Tx<'_>, layers: &[Layer], lot: i64) -> Done<(Vec<(Account, i128)>, i128)> {
    let mut here = Vec::new();
    if let Some(own) = tx.pool_share(lot)?
        && layers
            .iter()
            .any(|layer| layer.id == own.layer_id && layer.quantity > 0)
    {
        here.push((Account::layer(own.layer_id), i128::from(own.share)));
    }
    for (account, share) in pools::places(tx, lot)? {
        if account.kind == AccountKind::Garment && unfinished(tx, account.id)? {
            here.push((account, i128::from(share.max(0))));
        }
    }
    Ok((here, i128::from(WHOLE)))
}

fn unfinished(tx: &mut Tx<'_>, garment: i64) -> Done<bool> {
    let state = tx.garment(garment)?.map(|garment| garment.state);
    Ok(matches!(
        state,
        Some(GarmentState::Planned | GarmentState::CutInto)
    ))
}
