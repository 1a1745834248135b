//! A piece with its lot and material, read and written as one, and how it is shown.

use crate::desk::{
    Desk,
    context::Context,
    failure::{Done, not_found, too_early},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Amount, Metres, Micro, Problem, ProblemType,
    lots::{Flaw, Piece, Stretch},
    sheets::Sheet,
};
use ellwand_domain::{
    cloth,
    code::{LotCode, PieceCode},
    ledger::{Quantity, Rectangle},
    quantity::{Count, Micrometres, MilligramsPerM2},
    setting::{Kind, TrimUnit},
};
use ellwand_storage::{Lot, Material, StoredPiece, Tx};

/// A lot with its material and sheet.
#[derive(Debug, Clone)]
pub(crate) struct LotRecord {
    pub(crate) lot: Lot,
    pub(crate) material: Material,
    pub(crate) sheet: Sheet,
}

impl LotRecord {
    pub(crate) fn load(tx: &mut Tx<'_>, id: i64) -> Done<Self> {
        let code = LotCode::new(id);
        let lot = tx
            .lot(id)?
            .ok_or_else(|| not_found(format!("lot {code}"), "see ellwand shelf"))?;
        let material = tx.material(lot.material_id)?.ok_or_else(|| {
            Problem::new(
                ProblemType::Internal,
                format!("the material of {code} is missing"),
            )
        })?;
        let sheet = read_sheet(&lot.sheet)?;
        Ok(Self {
            lot,
            material,
            sheet,
        })
    }

    /// The day of an act on it, today where none is said; refused before it came in.
    pub(crate) fn day(&self, context: &Context<'_>, date: Option<NaiveDate>) -> Done<NaiveDate> {
        let (day, received) = (context.day(date)?, self.lot.received);
        if day < received {
            let code = LotCode::new(self.lot.id);
            let detail = format!("{code} had not come in on {day}: it came in on {received}");
            return Err(too_early(detail, day, received));
        }
        Ok(day)
    }

    pub(crate) const fn kind(&self) -> Kind {
        self.material.kind
    }

    /// True for what is counted, false for what has a length.
    pub(crate) fn is_counted(&self) -> bool {
        is_counted(self.kind(), &self.sheet)
    }

    pub(crate) fn code(&self) -> LotCode {
        LotCode::new(self.lot.id)
    }
}

/// True for trims that are counted.
pub(crate) fn is_counted(kind: Kind, sheet: &Sheet) -> bool {
    kind == Kind::Trim && sheet.unit != Some(TrimUnit::Length)
}

/// Reads a sheet as the book keeps it.
pub(crate) fn read_sheet(text: &str) -> Done<Sheet> {
    serde_json::from_str(text).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("a stored sheet cannot be read: {error}"),
        )
        .into()
    })
}

/// A quantity as it travels.
pub(crate) fn amount(counted: bool, quantity: Quantity) -> Amount {
    if counted {
        return Amount::Count(quantity.get());
    }
    Amount::LengthM(Metres(
        Micrometres::new(quantity.get()).unwrap_or(Micrometres::MAX),
    ))
}

/// How a quantity is shown to people: what is counted, lengths of thread, other lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Measure {
    Count,
    Thread,
    Length,
}

impl Measure {
    pub(crate) const fn of(kind: Kind, counted: bool) -> Self {
        match (counted, kind) {
            (true, _) => Self::Count,
            (false, Kind::Thread) => Self::Thread,
            (false, _) => Self::Length,
        }
    }

    /// What is there, for people: `2.60 m`, `6 pcs`.
    pub(crate) fn show(self, context: &Context<'_>, quantity: Quantity) -> String {
        let (length, units) = (length(quantity), context.units());
        match self {
            Self::Count => count_text(quantity),
            Self::Thread => length.show_thread(units),
            Self::Length => length.show(units),
        }
    }

    /// What is needed, promised or taken, for people.
    pub(crate) fn show_taken(self, context: &Context<'_>, quantity: Quantity) -> String {
        let (length, units) = (length(quantity), context.units());
        match self {
            Self::Count => count_text(quantity),
            Self::Thread => length.show_thread_taken(units),
            Self::Length => length.show_taken(units),
        }
    }

    /// What is there beside what is needed.
    pub(crate) fn show_beside(
        self,
        context: &Context<'_>,
        quantity: Quantity,
        needed: Quantity,
    ) -> (String, String) {
        (
            self.show(context, quantity),
            self.show_taken(context, needed),
        )
    }
}

fn length(quantity: Quantity) -> Micrometres {
    Micrometres::new(quantity.get()).unwrap_or(Micrometres::MAX)
}

fn count_text(quantity: Quantity) -> String {
    Count::new(quantity.get()).unwrap_or(Count::MAX).to_string()
}

/// A piece with its lot.
#[derive(Debug, Clone)]
pub(crate) struct Shelved {
    pub(crate) stored: StoredPiece,
    pub(crate) record: LotRecord,
}

impl Shelved {
    /// The piece of a code; of a lot alone its only piece.
    pub(crate) fn load(desk: &mut Desk<'_>, code: PieceCode) -> Done<Self> {
        if code.number == 0 {
            return Self::only(desk, code.lot);
        }
        let (tx, hint) = (&mut desk.tx, "see ellwand shelf");
        let stored = tx
            .piece_numbered(code.lot.get(), code.number)?
            .ok_or_else(|| not_found(format!("piece {code}"), hint))?;
        let record = LotRecord::load(tx, stored.lot_id)?;
        Ok(Self { stored, record })
    }

    /// The only piece of a lot of which something is left, or the only one at all; refused with the pieces where there are several.
    fn only(desk: &mut Desk<'_>, lot: LotCode) -> Done<Self> {
        let record = LotRecord::load(&mut desk.tx, lot.get())?;
        let mut all = desk.tx.pieces_of_lot(lot.get())?;
        if all.len() > 1 {
            all.retain(|stored| !stored.piece.quantity.is_zero());
        }
        let of = |stored| Self {
            stored,
            record: record.clone(),
        };
        let mut pieces: Vec<Self> = all.into_iter().map(of).collect();
        if pieces.len() == 1
            && let Some(only) = pieces.pop()
        {
            return Ok(only);
        }
        let shown = |piece: &Self| {
            let length = piece.show(desk.context, piece.stored.piece.quantity);
            format!("{} ({length})", piece.code())
        };
        let codes: Vec<String> = pieces
            .iter()
            .map(|piece| piece.code().to_string())
            .collect();
        let (detail, hint) = match pieces.iter().map(shown).collect::<Vec<_>>().join(", ") {
            none if none.is_empty() => (
                format!("nothing is left of {lot}"),
                "see ellwand shelf".to_owned(),
            ),
            several => (
                format!("{lot} has several pieces: {several}"),
                format!(
                    "name one of them, for example {}",
                    codes.first().map_or("", String::as_str)
                ),
            ),
        };
        Err(Problem::new(ProblemType::WrongState, detail)
            .field("piece")
            .hint(hint)
            .with("pieces", codes)
            .into())
    }

    /// The piece of a row.
    pub(crate) fn load_row(tx: &mut Tx<'_>, id: i64) -> Done<Self> {
        let stored = tx
            .piece(id)?
            .ok_or_else(|| Problem::new(ProblemType::Internal, format!("piece {id} is missing")))?;
        let record = LotRecord::load(tx, stored.lot_id)?;
        Ok(Self { stored, record })
    }

    pub(crate) fn code(&self) -> PieceCode {
        PieceCode {
            lot: LotCode::new(self.stored.lot_id),
            number: self.stored.number,
        }
    }

    /// Mass per area as it is now: the lot's, and denser by what the piece shrank.
    pub(crate) fn mass(&self) -> Done<Option<MilligramsPerM2>> {
        let Some(mass) = self.record.sheet.mass_gsm else {
            return Ok(None);
        };
        Ok(Some(cloth::mass_now(mass.0, self.stored.mass_factor_ppm)?))
    }

    pub(crate) fn counted(&self) -> bool {
        self.record.is_counted()
    }

    pub(crate) fn amount(&self, quantity: Quantity) -> Amount {
        amount(self.counted(), quantity)
    }

    pub(crate) fn measure(&self) -> Measure {
        Measure::of(self.record.kind(), self.counted())
    }

    pub(crate) fn show(&self, context: &Context<'_>, quantity: Quantity) -> String {
        self.measure().show(context, quantity)
    }

    pub(crate) fn show_taken(&self, context: &Context<'_>, quantity: Quantity) -> String {
        self.measure().show_taken(context, quantity)
    }

    pub(crate) fn show_beside(
        &self,
        context: &Context<'_>,
        quantity: Quantity,
        needed: Quantity,
    ) -> (String, String) {
        self.measure().show_beside(context, quantity, needed)
    }

    /// Reads a typed length or count of this piece; more than zero.
    pub(crate) fn parse(&self, field: &str, text: &str) -> Done<Quantity> {
        parse_quantity(self.counted(), field, text)
    }

    /// What was typed; all of the piece, where it is what people read of its length, which may be a little longer.
    pub(crate) fn as_read(&self, context: &Context<'_>, typed: Quantity) -> Quantity {
        let all = self.stored.piece.quantity;
        let read = self.parse("amount", &self.show(context, all));
        if read.is_ok_and(|read| read == typed) {
            all
        } else {
            typed
        }
    }

    /// Refuses a business date before the piece came, or before it was last prepared.
    pub(crate) fn check_day(&self, day: NaiveDate) -> Done<()> {
        let refuse = |what: &str, then: &str, since: NaiveDate| {
            let detail = format!("{} {what} on {day}: it {then} on {since}", self.code());
            Err(too_early(detail, day, since))
        };
        if day < self.stored.received {
            return refuse("had not come in", "came in", self.stored.received);
        }
        if let Some(prepared) = self.stored.prepared.filter(|prepared| day < *prepared) {
            return refuse("was not as it is now", "was prepared", prepared);
        }
        Ok(())
    }

    /// Writes the piece, with the day of the act.
    pub(crate) fn save(&mut self, tx: &mut Tx<'_>, day: NaiveDate) -> Done<()> {
        self.stored.last_on = self.stored.last_on.max(day);
        tx.update_piece(&self.stored)?;
        Ok(())
    }

    /// The piece without promises whose last day has passed, as readers see it.
    pub(crate) fn current(mut self, today: NaiveDate) -> Self {
        let overdue: Vec<i64> = self.overdue(today);
        self.stored
            .piece
            .holds
            .retain(|hold| !overdue.contains(&hold.reservation));
        self
    }

    /// Promises whose last day has passed.
    pub(crate) fn overdue(&self, today: NaiveDate) -> Vec<i64> {
        self.stored
            .until
            .iter()
            .filter(|(_, until)| **until < today)
            .map(|(id, _)| *id)
            .collect()
    }

    /// As it is shown, promises whose last day has passed left out.
    pub(crate) fn view(&self, today: NaiveDate) -> Done<Piece> {
        let shown = self.clone().current(today);
        let piece = &shown.stored.piece;
        let internal = |error: ellwand_domain::ledger::LedgerError| {
            Problem::new(ProblemType::Internal, format!("{}: {error}", shown.code()))
        };
        let metres = |um: i64| Metres(Micrometres::new(um).unwrap_or(Micrometres::MAX));
        let stretches = piece.stretches().map_err(internal)?;
        Ok(Piece {
            piece: shown.code(),
            on_hand: shown.amount(piece.quantity),
            reserved: shown.amount(piece.held().map_err(internal)?),
            free: shown.amount(piece.free().map_err(internal)?),
            longest_free: shown.amount(piece.longest_free().map_err(internal)?),
            full_width_m: piece.rectangle.map(|rectangle| Metres(rectangle.full)),
            usable_width_m: piece.rectangle.map(|rectangle| Metres(rectangle.usable())),
            preparation: shown.stored.preparation,
            offcut: shown.stored.offcut,
            tare_g: shown
                .stored
                .tare
                .map(ellwand_domain::quantity::Milligrams::decimal_g),
            estimated: shown.stored.estimated && !piece.quantity.is_zero(),
            place: shown.stored.place.clone(),
            stretches: if shown.counted() {
                Vec::new()
            } else {
                let view = |stretch: &ellwand_domain::ledger::Stretch| Stretch {
                    start_m: metres(stretch.start.get()),
                    length_m: metres(stretch.length.get()),
                    reserved_m: metres(stretch.held.get()),
                };
                stretches.iter().map(view).collect()
            },
            flaws: piece
                .flaws
                .iter()
                .map(|flaw| Flaw {
                    at_m: metres(flaw.at),
                    length_m: metres(flaw.length),
                    note: flaw.note.clone(),
                })
                .collect(),
            value: piece
                .rectangle
                .filter(|_| shown.record.lot.owner_id.is_none())
                .map(|_| Micro(piece.value)),
        })
    }
}

/// Reads a typed length or count; more than zero.
pub(crate) fn parse_quantity(counted: bool, field: &str, text: &str) -> Done<Quantity> {
    let refuse = |error: ellwand_domain::quantity::QuantityError| {
        crate::desk::failure::invalid(field, error.to_string())
    };
    let quantity: Quantity = if counted {
        text.parse::<Count>().map_err(refuse)?.into()
    } else {
        text.parse::<Micrometres>().map_err(refuse)?.into()
    };
    if quantity.is_zero() {
        let error = ellwand_domain::quantity::QuantityError::NotPositive {
            text: text.to_owned(),
        };
        return Err(refuse(error));
    }
    Ok(quantity)
}

/// A new piece of a lot, written at once; its number is the lot's next.
pub(crate) struct NewPiece {
    pub(crate) lot: i64,
    pub(crate) quantity: Quantity,
    pub(crate) rectangle: Option<Rectangle>,
    pub(crate) value: ellwand_domain::quantity::Millionths,
    pub(crate) flaws: Vec<ellwand_domain::ledger::Flaw>,
    pub(crate) preparation: Option<ellwand_domain::shrinkage::Preparation>,
    pub(crate) prepared: Option<NaiveDate>,
    pub(crate) mass_factor_ppm: i64,
    pub(crate) estimated: bool,
    pub(crate) offcut: bool,
    pub(crate) place: Option<String>,
    pub(crate) day: NaiveDate,
}

impl NewPiece {
    /// What came off another piece, as that is.
    pub(crate) fn of(
        from: &StoredPiece,
        off: &ellwand_domain::ledger::Piece,
        day: NaiveDate,
    ) -> Self {
        Self {
            lot: from.lot_id,
            quantity: off.quantity,
            rectangle: off.rectangle,
            value: off.value,
            flaws: off.flaws.clone(),
            preparation: from.preparation,
            prepared: from.prepared,
            mass_factor_ppm: from.mass_factor_ppm,
            estimated: from.estimated,
            offcut: from.offcut,
            place: from.place.clone(),
            day,
        }
    }

    /// Gives it a row and a number; promises may be put on it before it is inserted.
    pub(crate) fn number(self, tx: &mut Tx<'_>) -> Done<StoredPiece> {
        let id = tx.next_numbers(crate::desk::counter::PIECE, 1)?;
        let number = tx.next_piece_numbers(self.lot, 1)?;
        let mut piece =
            ellwand_domain::ledger::Piece::new(id, self.quantity, self.rectangle, self.value);
        piece.flaws = self.flaws;
        Ok(StoredPiece {
            piece,
            lot_id: self.lot,
            number,
            preparation: self.preparation,
            offcut: self.offcut,
            place: self.place,
            received: self.day,
            prepared: self.prepared,
            last_on: self.day,
            mass_factor_ppm: self.mass_factor_ppm,
            tare: None,
            estimated: self.estimated,
            until: std::collections::HashMap::new(),
        })
    }
}
