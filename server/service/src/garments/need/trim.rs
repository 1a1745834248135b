//! What a need says of a trim: size, colour, a set that matches, spares.

use super::{
    NeedRecord,
    build::{first_given, typed},
};
use crate::{
    desk::failure::{Done, invalid},
    promises::fit::Reason,
    shelf::shelved::LotRecord,
};
use ellwand_contract::{garments::NeedInput, sheets::Sheet};
use ellwand_domain::{
    ledger::Quantity,
    need::{Takes, TrimConditions},
    quantity::{Count, Micrometres, QuantityError},
    setting::{Kind, WhyNot},
    trim::{Ligne, STOCKED, TrimSize, nearest},
};

/// Reads what is asked of a trim; refuses what is not said of this kind, and what cannot be read.
pub(super) fn wanted(input: &NeedInput, kind: Kind) -> Done<TrimConditions> {
    let coloured = matches!(kind, Kind::Thread | Kind::Trim);
    if input.colour.is_some() && !coloured {
        let detail = format!("colour is for thread and trims, the need is {kind}");
        return Err(invalid("colour", detail));
    }
    let (of_trims, of_counted) = (
        [("size", input.size.is_some())],
        [
            ("matching", input.matching),
            ("spares", input.spares.is_some()),
        ],
    );
    if let Some(name) = first_given(&of_trims).filter(|_| kind != Kind::Trim) {
        let detail = format!("{name} is for trims, the need is {kind}");
        return Err(invalid(name, detail));
    }
    let counted = kind == Kind::Trim && input.count.is_some();
    if let Some(name) = first_given(&of_counted).filter(|_| !counted) {
        let detail = format!("{name} is for trims that are counted; give a count");
        return Err(invalid(name, detail));
    }
    let size = typed("size", &input.size)?;
    let colour = input.colour.as_deref();
    if colour.is_some_and(|colour| colour.trim().is_empty()) {
        let detail = "the colour is empty; leave it out where any will do";
        return Err(invalid("colour", detail));
    }
    if input.spares.is_some_and(|spares| spares < 1) {
        return Err(invalid("spares", "no spares are none; leave them out"));
    }
    Ok(TrimConditions {
        size,
        colour: input.colour.clone(),
    })
}

/// Trims by count, with their spares.
pub(super) fn counted(input: &NeedInput, count: i64, trim: TrimConditions) -> Done<Takes> {
    let read = |field, number| {
        Count::new(number).map_err(|error: QuantityError| invalid(field, error.to_string()))
    };
    let count = read("count", count)?;
    if count == Count::ZERO {
        return Err(invalid("count", "a need of no trims is none; leave it out"));
    }
    let spares = match input.spares {
        Some(spares) => {
            read("spares", count.get().saturating_add(spares))?;
            Some(read("spares", spares)?)
        }
        None => None,
    };
    Ok(Takes::Counted {
        count,
        spares,
        matching: input.matching,
        trim,
    })
}

impl NeedRecord {
    /// Counted trims that make one set: what one garment takes, spares included; none of what is measured.
    pub(crate) fn set_size(&self) -> Option<i64> {
        self.per_unit.filter(|_| self.counted).map(Quantity::get)
    }

    /// `6 pcs`, `6 pcs + 1 spare`.
    pub(super) fn counted_text(&self, all: Count) -> String {
        match self.plan.count() {
            (Some(count), Some(1)) => format!("{count} pcs + 1 spare"),
            (Some(count), Some(spares)) => format!("{count} pcs + {spares} spares"),
            _ => format!("{all} pcs"),
        }
    }

    /// The size that is wanted.
    pub(crate) fn wanted_size(&self) -> Option<TrimSize> {
        Some(self.plan.trim().size.as_ref()?.value)
    }

    /// How far a lot's size is from the one that is wanted; nothing where none is.
    pub(crate) fn size_off(&self, record: &LotRecord) -> Micrometres {
        let sizes = self.wanted_size().zip(size_of(&record.sheet));
        sizes.map_or(Micrometres::ZERO, |(wanted, is)| is.off(wanted))
    }

    /// Conditions of trims for people. A size in millimetres names the nearest one that buttons are made in.
    pub(super) fn trim_conditions(&self) -> Vec<String> {
        let mut conditions = Vec::new();
        if let Some(size) = self.wanted_size() {
            let made =
                nearest(size.across(), STOCKED).filter(|_| !size.in_ligne() && !size.is_long());
            // More than 2 L off it is another size.
            let near = |made: &Ligne| {
                made.across()
                    .is_ok_and(|across| size.is_near(TrimSize::new(across)))
            };
            conditions.push(match made.filter(|_| self.counted).filter(near) {
                Some(made) => format!("size {size}, nearest {made}"),
                None => format!("size {size}"),
            });
        }
        let colour = self.plan.colour();
        conditions.extend(colour.map(|colour| format!("colour {}", colour.trim())));
        let set = "a set that matches: of one lot, all or nothing";
        conditions.extend(self.plan.matching().then(|| set.to_owned()));
        conditions
    }

    /// The size or colour that a lot does not have.
    pub(crate) fn trim_not_met(&self, record: &LotRecord) -> Option<Reason> {
        if let Some(wanted) = self.wanted_size() {
            let Some(is) = size_of(&record.sheet) else {
                let lot = record.code();
                let size = self.plan.trim().size.as_ref();
                let size = size.map_or_else(String::new, |size| size.text.replace(' ', ""));
                let text = format!("its size is unknown, the need asks for {wanted}");
                let hint = format!("enter it, for example: ellwand lot edit {lot} --size {size}");
                return Some(Reason::unknown(text, &hint));
            };
            if !is.same_as(wanted) {
                return Some(Reason::other(
                    WhyNot::Size,
                    format!("it is {is}, the need asks for {wanted}"),
                ));
            }
        }
        if let Some(wanted) = self.plan.colour().map(str::trim) {
            let Some(is) = &record.sheet.colour else {
                let text = format!("its colour is unknown, the need asks for {wanted}");
                let lot = record.code();
                let hint =
                    format!("enter it, for example: ellwand lot edit {lot} --colour '{wanted}'");
                return Some(Reason::unknown(text, &hint));
            };
            if !same_colour(is, wanted) {
                return Some(Reason::other(
                    WhyNot::Colour,
                    format!("it is {is}, the need asks for {wanted}"),
                ));
            }
        }
        None
    }
}

/// The size of a trim, as it was typed.
pub(crate) fn size_of(sheet: &Sheet) -> Option<TrimSize> {
    let size = TrimSize::new(sheet.size_m?.0);
    Some(size.shown_as(sheet.size.as_deref().unwrap_or_default()))
}

/// The same colour, whatever the capitals and blanks.
pub(crate) fn same_colour(one: &str, other: &str) -> bool {
    let plain = |text: &str| {
        text.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase()
    };
    plain(one) == plain(other)
}
