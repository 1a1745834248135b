//! Goods that leave the shelf for no garment: a length or count comes off the outer end, its cost goes to a place of its own.

mod discard;
mod give;
mod sale;
mod sell;

pub(crate) use sale::{sale, sold};

use crate::{
    desk::{
        Desk, Entry,
        detail::{Detail, Segment},
        failure::{Done, Failure},
    },
    promises::{self, Settled, panel},
    shelf::{
        day,
        lots::measure::used_up,
        pooled::{self, TakenFromLayers},
        shelved::{NewPiece, Shelved},
    },
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro, Problem, ProblemType,
    goods::{Goods, GoodsGone, Sale},
    text::{NOTE, clean_text},
};
use ellwand_domain::{
    code::{BookingCode, CustomerCode, GarmentCode, LotCode},
    ledger::{
        Account, AccountKind, CutEffect, CutOrder, Hold, LedgerError, Movement, Piece, Quantity,
    },
    quantity::Millionths,
    setting::BookingKind,
};
use ellwand_storage::Subject;
use std::collections::BTreeSet;

/// Goods on their way off the shelf.
struct Leaving<'a> {
    goods: &'a Goods,
    shelved: Shelved,
    quantity: Quantity,
    day: NaiveDate,
    booking: i64,
}

/// Goods that have left it; the booking is still to be written.
struct Gone {
    shelved: Shelved,
    quantity: Quantity,
    day: NaiveDate,
    booking: i64,
    cost: Millionths,
    effect: CutEffect,
    made: Option<Shelved>,
    layers: TakenFromLayers,
    settled: Settled,
    to: Account,
}

impl<'a> Leaving<'a> {
    fn open(desk: &mut Desk<'_>, goods: &'a Goods) -> Done<Self> {
        let mut shelved = Shelved::load(desk, goods.piece)?;
        check_owner(&shelved)?;
        let day = desk.context.day(goods.date)?;
        let quantity = match &goods.amount {
            Some(text) => shelved.as_read(desk.context, shelved.parse("goods.amount", text)?),
            None => shelved.stored.piece.quantity,
        };
        if shelved.stored.piece.quantity.is_zero() {
            return Err(used_up(&shelved));
        }
        let booking = desk.next_booking()?;
        promises::end_overdue(desk, booking, &mut shelved)?;
        if quantity <= shelved.stored.piece.quantity {
            day::check(desk, &shelved, day, ("taking", quantity))?;
        }
        Ok(Self {
            goods,
            shelved,
            quantity,
            day,
            booking,
        })
    }

    /// Takes them off their piece and layers; `done` says of the goods what becomes of them.
    fn take(mut self, desk: &mut Desk<'_>, to: AccountKind, done: &str) -> Done<Gone> {
        let to = Account::new(to, 0);
        let order = self.order(desk)?;
        let before = self.shelved.stored.piece.holds.clone();
        let taken =
            promises::with_room(desk, &mut self.shelved, None, |piece| piece.dispose(&order))?;
        let mut effect = match taken {
            Ok(effect) => effect,
            Err(error) => return Err(self.refusal(desk, done, &error)?),
        };
        let settled = self.settle(desk, done, (&before, &order.may_break))?;
        let made = self.strip(desk, effect.strip.take())?;
        self.shelved.save(desk, self.day)?;
        let layers = match self.shelved.stored.piece.rectangle {
            Some(_) => TakenFromLayers::default(),
            None => {
                let quantity = (self.quantity, false);
                pooled::take(desk, self.booking, &self.shelved, quantity, to)?
            }
        };
        Ok(Gone {
            cost: effect.value.plus(layers.cost)?,
            shelved: self.shelved,
            quantity: self.quantity,
            day: self.day,
            booking: self.booking,
            effect,
            made,
            layers,
            settled,
            to,
        })
    }

    /// Settles the promises on what is left of the piece, and those that must be of the lot of one that broke.
    fn settle(
        &mut self,
        desk: &mut Desk<'_>,
        done: &str,
        (before, last): (&[Hold], &[i64]),
    ) -> Done<Settled> {
        if last.is_empty() {
            return Ok(Settled {
                changed: promises::gave_up(desk, &self.shelved, before)?,
                ..Settled::default()
            });
        }
        let because = format!("part of {} was {done}", self.shelved.code());
        let mut settled =
            promises::resettle_last(desk, self.booking, &mut self.shelved, &because, last)?;
        self.shelved.save(desk, self.day)?;
        let mut bound = BTreeSet::new();
        for id in &settled.broken {
            let row = promises::row(desk, *id)?;
            bound.insert(promises::need_of(desk, &row)?.0.id);
        }
        settled.add(promises::resettle_bound_to(desk, self.booking, &bound)?);
        self.shelved = Shelved::load_row(desk, self.shelved.stored.piece.id)?;
        Ok(settled)
    }

    fn order(&self, desk: &mut Desk<'_>) -> Done<CutOrder> {
        let piece = &self.shelved.stored.piece;
        let panel = match (&self.goods.panel_width, piece.rectangle) {
            (None, _) => None,
            (Some(_), None) => return Err(panel::no_panel("goods.panel_width")),
            (Some(width), Some(rectangle)) => Some(panel::panel(
                desk.context,
                rectangle.usable(),
                self.quantity,
                width.value(),
            )),
        };
        Ok(CutOrder {
            panel,
            may_break: promises::of_garments(desk, &self.goods.break_promises, piece.id)?,
            ..CutOrder::free(self.quantity)
        })
    }

    /// Who holds what is asked for, and how it is taken all the same.
    fn refusal(&self, desk: &mut Desk<'_>, done: &str, error: &LedgerError) -> Done<Failure> {
        let what_for = format!("what is {done}");
        let problem = promises::refusal(desk, &self.shelved, &what_for, error)?;
        let LedgerError::ExceedsAvailable { held_by, .. } = error else {
            let code = self.shelved.code();
            let hint = format!(
                "name less, or another piece; ellwand lot measure {code} corrects what is here"
            );
            return Ok(problem.hint(hint).into());
        };
        let mut garments = BTreeSet::new();
        for id in held_by {
            let row = promises::row(desk, *id)?;
            let garment = promises::need_of(desk, &row)?.0.id;
            let code = GarmentCode::new(garment);
            garments.insert(format!("--break {code}"));
        }
        let all: Vec<String> = garments.into_iter().collect();
        let hint = format!("leave what is promised, or take it with {}", all.join(" "));
        Ok(problem.hint(hint).into())
    }

    /// What lay beside a panel, where it is kept.
    fn strip(&self, desk: &mut Desk<'_>, strip: Option<Piece>) -> Done<Option<Shelved>> {
        let Some(strip) = strip else { return Ok(None) };
        let new = NewPiece {
            offcut: true,
            ..NewPiece::of(&self.shelved.stored, &strip, self.day)
        };
        let stored = new.number(desk)?;
        desk.tx.insert_piece(&stored)?;
        Ok(Some(Shelved {
            stored,
            record: self.shelved.record.clone(),
        }))
    }
}

/// Refuses what a customer brought: it is not the workshop's to give.
fn check_owner(shelved: &Shelved) -> Done<()> {
    let Some(owner) = shelved.record.lot.owner_id.map(CustomerCode::new) else {
        return Ok(());
    };
    let code = shelved.code();
    Err(Problem::new(
        ProblemType::DoesNotServe,
        format!("{code} belongs to {owner}: it is not the workshop's to give, sell or discard"),
    )
    .hint("cut it for a garment of theirs: ellwand garment plan NAME --for CUSTOMER")
    .with("piece", code.to_string())
    .with("customer", owner.to_string())
    .into())
}

/// A reason as it stands at the end of a sentence: `: moth holes`.
fn reason(text: Option<&String>) -> Done<String> {
    let reason = clean_text("reason", "reason", NOTE, text)?;
    Ok(reason.map_or_else(String::new, |reason| format!(": {reason}")))
}

impl Gone {
    /// `0.60 m of L1.2 linen`.
    fn named(&self, desk: &Desk<'_>) -> String {
        format!(
            "{} of {} {}",
            self.shelved.show_taken(desk.context, self.quantity),
            self.shelved.code(),
            self.shelved.record.material.name
        )
    }

    /// Books it, and answers.
    fn book(
        mut self,
        desk: &mut Desk<'_>,
        kind: BookingKind,
        summary: String,
        sale: Option<Sale>,
    ) -> Done<GoodsGone> {
        let mut entry = Entry::new(kind, self.day, summary);
        entry.subjects = vec![(Subject::Lot, self.shelved.record.lot.id)];
        entry.detail = Detail::Parted {
            off: Segment {
                piece: self.shelved.stored.piece.id,
                quantity: self.quantity.get(),
                end: self.effect.came_off,
                flaws: std::mem::take(&mut self.effect.flaws),
                made: None,
            },
        };
        entry.movements = self.movements();
        desk.book(self.booking, entry)?;
        self.answer(desk, sale)
    }

    fn movements(&mut self) -> Vec<Movement> {
        let from = Account::piece(self.shelved.stored.piece.id);
        let value = self.effect.value;
        let mut movements = vec![Movement::new(from, self.to, self.quantity, value)];
        // The strip lay beside it: it takes no length.
        movements.extend(self.made.as_ref().map(|strip| {
            let piece = &strip.stored.piece;
            Movement {
                quantity_out: Quantity::ZERO,
                ..Movement::new(from, Account::piece(piece.id), piece.quantity, piece.value)
            }
        }));
        movements.append(&mut self.layers.movements);
        movements
    }

    fn answer(self, desk: &mut Desk<'_>, sale: Option<Sale>) -> Done<GoodsGone> {
        let today = desk.context.today;
        let made = self.made.as_ref().map(|made| made.view(today));
        let mut notes = promises::notes(desk, &self.settled.broken)?;
        let lot = &self.shelved.record.lot;
        if lot.unpriced {
            let lot = LotCode::new(lot.id);
            notes.push(format!(
                "the price of {lot} is not known, so neither is its cost nor any gain; log it with ellwand lot price {lot} 24.00"
            ));
        }
        Ok(GoodsGone {
            booking: BookingCode::new(self.booking),
            taken: self.shelved.amount(self.quantity),
            cost: Some(Micro(self.cost)),
            cost_printed: Some(desk.context.printed(self.cost)),
            unpriced: self.shelved.record.lot.unpriced,
            from_layers: self.layers.layers,
            sale,
            piece: self.shelved.view(today)?,
            made: made.into_iter().collect::<Done<_>>()?,
            changed: promises::views(desk, &self.settled.changed)?,
            broken: promises::views(desk, &self.settled.broken)?,
            notes,
        })
    }
}
