//! Weighing a piece to learn its length: a reel by its tare and count, cloth by its mass per area.

use super::measure::{Found, remeasure};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, invalid},
        perform::Perform,
        trace::Traced,
    },
    shelf::shelved::Shelved,
};
use ellwand_contract::{
    Problem, ProblemType,
    lots::{PieceChanged, WeighPiece},
};
use ellwand_domain::{cloth, ledger::Quantity, quantity::Milligrams, setting::Facet, thread};

impl Perform for WeighPiece {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PieceChanged, Failure> {
        let shelved = Shelved::load(desk, self.piece)?;
        if shelved.counted() {
            let detail = format!("{} is counted, not weighed", shelved.code());
            return Err(Problem::from(invalid("piece", detail))
                .hint("count it and enter the number with ellwand lot measure")
                .into());
        }
        let gross = mass("gross", &self.gross)?;
        let given_tare = self
            .tare
            .as_deref()
            .map(|text| mass("tare", text))
            .transpose()?;
        let tare = Tare::of(&shelved, given_tare)?;
        let holder = if shelved.record.kind().is_rectangle() {
            "core"
        } else {
            "reel"
        };
        let net = match shelved.record.kind().is_rectangle() {
            true => thread::net_of_roll(gross, tare.mass),
            false => thread::net_of(gross, tare.mass, 1),
        };
        let net = net.map_err(|error| {
            Problem::from(invalid(
                "gross",
                format!("{}: {error} ({})", shelved.code(), tare.from),
            ))
            .hint(format!(
                "weigh it again, or give the mass of the empty {holder} with --tare"
            ))
        })?;
        let found = length(&shelved, net)?;
        let mut notes = Vec::new();
        if found.is_zero() {
            notes.push(format!(
                "nothing is left on it: it weighs no more than the empty reel ({})",
                tare.from
            ));
        } else {
            notes.push(format!(
                "{} net by weight: an estimate",
                net.show(desk.context.units())
            ));
        }
        if let Some(mass) = given_tare {
            notes.push(format!(
                "{} is kept as the mass of its empty {holder}",
                mass.show(desk.context.units())
            ));
        } else if tare.unknown {
            let stuff = if holder == "core" { "cloth" } else { "thread" };
            notes.push(format!(
                "the mass of the empty {holder} is unknown: all of it was taken as {stuff}"
            ));
        }
        let found = Found {
            found,
            width: None,
            scale: false,
            really: self.really,
            how: "weighed".to_owned(),
            tare: given_tare,
            estimated: true,
            rests: rests(&shelved),
            notes,
        };
        remeasure(desk, shelved, found, self.date)
    }
}

/// A length by weight rests on what the sheet and the piece say; a tare that was said is the act's own.
fn rests(shelved: &Shelved) -> Vec<Traced> {
    let on = |field: &str| Traced::rests(Facet::Sheet, shelved.record.lot.id, field.to_owned());
    match shelved.record.kind().is_rectangle() {
        true => vec![on("mass_gsm"), on("tare_g")],
        false => vec![on("yarn_count"), on("tare_g")],
    }
}

fn mass(field: &str, text: &str) -> Done<Milligrams> {
    text.parse()
        .map_err(|error: ellwand_domain::quantity::QuantityError| invalid(field, error.to_string()))
}

/// What the empty reel or core weighs, and who says so.
struct Tare {
    mass: Milligrams,
    from: &'static str,
    unknown: bool,
}

impl Tare {
    /// As said now, else as it was said for this piece, else by the lot's sheet, else nothing.
    fn of(shelved: &Shelved, given_tare: Option<Milligrams>) -> Done<Self> {
        let known = |mass, from| {
            Ok(Self {
                mass,
                from,
                unknown: false,
            })
        };
        if let Some(mass) = given_tare {
            return known(mass, "as given now");
        }
        if let Some(mass) = shelved.stored.tare {
            return known(mass, "as given for this piece before");
        }
        match &shelved.record.sheet.tare_g {
            Some(grams) => known(
                Milligrams::from_decimal_g(grams)?,
                "by the sheet of its lot",
            ),
            None => Ok(Self {
                mass: Milligrams::ZERO,
                from: "its tare is unknown",
                unknown: true,
            }),
        }
    }
}

/// Length of a net mass; none for an empty reel.
fn length(shelved: &Shelved, net: Milligrams) -> Done<Quantity> {
    let unknown = |what: &str, flag: &str| -> Failure {
        let (piece, lot) = (shelved.code(), shelved.record.code());
        let detail = format!("{piece} cannot be weighed: its {what} is unknown");
        Problem::new(ProblemType::Unknown, detail)
            .hint(format!("enter it: ellwand lot edit {lot} {flag}"))
            .into()
    };
    match (
        shelved.record.sheet.count(),
        shelved.mass()?,
        shelved.stored.piece.rectangle,
    ) {
        (Some(count), ..) => Ok(thread::length_on_reel(net, count)?.into()),
        (None, None, Some(_)) => Err(unknown("mass per area", "--mass 270gsm")),
        (None, _, None) => Err(unknown("yarn count", "--yarn-count 30tex")),
        (None, Some(_), Some(_)) if net == Milligrams::ZERO => {
            let detail = format!("{} would weigh no more than its empty core", shelved.code());
            Err(Problem::from(invalid("gross", detail))
                .hint("book the missing cloth with ellwand cut, or weigh it again")
                .into())
        }
        (None, Some(mass), Some(rectangle)) => {
            let length = cloth::length_by_mass(net, mass, rectangle.full);
            Ok(length
                .map_err(|error| invalid("gross", error.to_string()))?
                .into())
        }
    }
}
