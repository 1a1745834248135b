//! What a need says of a trim: size, colour, a set that matches, spares.

use super::NeedRecord;
use crate::{
    failure::{Done, invalid},
    fit::Reason,
    shelved::LotRecord,
};
use ellwand_contract::{garments::NeedInput, sheets::Sheet};
use ellwand_domain::{
    ledger::Quantity,
    quantity::{Count, Micrometres},
    setting::Kind,
    trim::{Ligne, STOCKED, TrimSize, nearest},
};

/// Refuses what is not said of this kind, and what cannot be read.
pub(super) fn check(input: &NeedInput, kind: Kind) -> Done<()> {
    let of_trims = [
        ("size", input.size.is_some()),
        ("colour", input.colour.is_some()),
    ];
    if let Some((name, _)) = of_trims
        .into_iter()
        .find(|(_, given)| *given && kind != Kind::Trim)
    {
        return Err(invalid(
            name,
            format!("{name} is for trims, the need is {kind}"),
        ));
    }
    let counted = kind == Kind::Trim && input.count.is_some();
    let of_counted = [
        ("matching", input.matching),
        ("spares", input.spares.is_some()),
    ];
    if let Some((name, _)) = of_counted.into_iter().find(|(_, given)| *given && !counted) {
        return Err(invalid(
            name,
            format!("{name} is for trims that are counted; give a count"),
        ));
    }
    if let Some(text) = &input.size {
        text.parse::<TrimSize>()
            .map_err(|error| invalid("size", error.to_string()))?;
    }
    if input
        .colour
        .as_deref()
        .is_some_and(|colour| colour.trim().is_empty())
    {
        return Err(invalid(
            "colour",
            "the colour is empty; leave it out where any will do",
        ));
    }
    if input.spares.is_some_and(|spares| spares < 1) {
        return Err(invalid("spares", "no spares are none; leave them out"));
    }
    Ok(())
}

/// What one garment takes: its count and its spares.
pub(super) fn with_spares(count: Count, input: &NeedInput) -> Done<Quantity> {
    let all = count.get().saturating_add(input.spares.unwrap_or(0));
    let all = Count::new(all).map_err(|error| invalid("spares", error.to_string()))?;
    Ok(all.into())
}

impl NeedRecord {
    /// Counted trims that make one set: what one garment takes, spares included; none of what is measured.
    pub(crate) fn set_size(&self) -> Option<i64> {
        self.per_unit.filter(|_| self.counted).map(Quantity::get)
    }

    /// `6 pcs`, `6 pcs + 1 spare`.
    pub(super) fn counted_text(&self, all: Count) -> String {
        match (self.input.count, self.input.spares) {
            (Some(count), Some(1)) => format!("{count} pcs + 1 spare"),
            (Some(count), Some(spares)) => format!("{count} pcs + {spares} spares"),
            _ => format!("{all} pcs"),
        }
    }

    /// The size that is wanted.
    pub(crate) fn wanted_size(&self) -> Option<TrimSize> {
        self.input
            .size
            .as_deref()
            .and_then(|text| text.parse().ok())
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
        conditions.extend(
            self.input
                .colour
                .as_ref()
                .map(|colour| format!("colour {}", colour.trim())),
        );
        conditions.extend(
            self.input
                .matching
                .then(|| "a set that matches: of one lot, all or nothing".to_owned()),
        );
        conditions
    }

    /// The size or colour that a lot does not have.
    pub(crate) fn trim_not_met(&self, record: &LotRecord) -> Option<Reason> {
        let other = "choose another piece, or change the need";
        if let Some(wanted) = self.wanted_size() {
            let Some(is) = size_of(&record.sheet) else {
                let text = format!(
                    "its size is unknown (ellwand lot edit enters it), the need asks for {wanted}"
                );
                return Some(Reason::unknown(
                    text,
                    "enter the size with ellwand lot edit",
                ));
            };
            if !is.same_as(wanted) {
                return Some(Reason::new(
                    format!("it is {is}, the need asks for {wanted}"),
                    other,
                ));
            }
        }
        if let Some(wanted) = self.input.colour.as_deref().map(str::trim) {
            let Some(is) = &record.sheet.colour else {
                let text = format!("its colour is unknown, the need asks for {wanted}");
                return Some(Reason::unknown(
                    text,
                    "enter the colour with ellwand lot edit",
                ));
            };
            if !same_colour(is, wanted) {
                return Some(Reason::new(
                    format!("it is {is}, the need asks for {wanted}"),
                    other,
                ));
            }
        }
        None
    }
}

/// The size of a trim, told as it was typed.
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
