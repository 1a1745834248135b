//! Recording how stiff a lot is, from strips or from a datasheet.

use super::{put, show};
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid},
        perform::Perform,
        trace,
    },
    promises,
    shelf::{sheet, shelved::LotRecord},
};
use chrono::NaiveDate;
use ellwand_contract::text::{NOTE, clean_text};
use ellwand_contract::{
    Gsm, Metres, Problem, ProblemType,
    stiffness::{GrainStiffness, StiffnessChanged, TestStiffness},
};
use ellwand_domain::{
    certainty::Certainty,
    code::BookingCode,
    quantity::{Micrometres, MilligramsPerM2, QuantityError, parse::parse_mass_per_area},
    setting::{BookingKind, Facet, Grain, StiffnessMethod},
    stiffness::{
        Reading, Strips, decimal_mm, decimal_unm, parse_printed, rigidity_from_bending_length,
    },
};
use ellwand_storage::Subject;

/// Strips of 1 in × 8 in, in metric (textilepad.com 2022: 20 cm × 2.5 cm).
const STRIP: (Micrometres, Micrometres) = (Micrometres::from_mm(200), Micrometres::from_mm(25));
/// Thicker than any cloth (common practice).
const THICKEST: Micrometres = Micrometres::from_mm(50);

/// The strips that were tested.
struct Strip {
    length: Micrometres,
    width: Micrometres,
    mass: Option<MilligramsPerM2>,
    thickness: Option<Micrometres>,
}

impl Perform for TestStiffness {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<StiffnessChanged, Failure> {
        let mut record = LotRecord::load(desk, self.lot.get())?;
        if !record.kind().is_rectangle() {
            let detail = format!(
                "{} is {}: only cloth and interlining bend along a grain",
                self.lot,
                record.kind()
            );
            return Err(invalid("lot", detail));
        }
        let day = record.day(desk.context, self.date)?;
        let strip = self.strip(&record)?;
        let before = record.lot.sheet.clone();
        let mut results = Vec::new();
        for (grain, readings) in [
            (Grain::Lengthwise, &self.lengthwise),
            (Grain::Crosswise, &self.crosswise),
            (Grain::Bias, &self.bias),
        ] {
            if !readings.is_empty() {
                let found = self.along(grain, readings, &strip, day)?;
                results.push(format!("{} uNm {grain}", found.rigidity_unm));
                put(&mut record.sheet, found);
            }
        }
        if results.is_empty() {
            let detail = "no grain was tested: give overhangs lengthwise, crosswise or on the bias";
            return Err(Problem::from(invalid("lengthwise", detail))
                .hint("for example 62mm, 60mm")
                .into());
        }
        let booking = desk.next_booking()?;
        record.lot.sheet = sheet::write(&record.sheet)?;
        desk.tx.update_lot(&record.lot)?;
        let because = format!("the stiffness of {} was tested", self.lot);
        let settled = promises::resettle_stiffness(desk, booking, &record, &because)?;
        let summary = format!(
            "Stiffness of {} {}: {}.",
            self.lot,
            record.material.name,
            results.join(", ")
        );
        let mut entry = Entry::new(BookingKind::Tested, day, summary);
        entry.subjects = vec![(Subject::Lot, record.lot.id)];
        entry.traces = trace::of_sheet((Facet::Sheet, record.lot.id), &before, &record.lot.sheet)?;
        desk.book(booking, entry)?;
        Ok(StiffnessChanged {
            booking: BookingCode::new(booking),
            stiffness: show::view(desk, &record)?,
            changed: promises::views(desk, &settled.changed)?,
            broken: promises::views(desk, &settled.broken)?,
            notes: promises::notes(desk, &settled.broken)?,
        })
    }
}

trait Read {
    fn strip(&self, record: &LotRecord) -> Done<Strip>;
    fn along(
        &self,
        grain: Grain,
        readings: &[Vec<String>],
        strip: &Strip,
        day: NaiveDate,
    ) -> Done<GrainStiffness>;
}

impl Read for TestStiffness {
    fn strip(&self, record: &LotRecord) -> Done<Strip> {
        let mass = match &self.mass {
            Some(text) => {
                let full = record.sheet.full_width_m.map(|width| width.0);
                let mass =
                    parse_mass_per_area(text, full).map_err(|error| refuse("mass", &error))?;
                Some(positive("mass", text, mass.get(), mass)?)
            }
            None => record.sheet.mass_gsm.map(|mass| mass.0),
        };
        let thickness = match &self.thickness {
            Some(text) => {
                let read: Micrometres =
                    text.parse().map_err(|error| refuse("thickness", &error))?;
                let thickness = positive("thickness", text, read.get(), read)?;
                if thickness > THICKEST {
                    let detail = format!("\"{text}\" is thicker than any cloth: 50 mm at most");
                    return Err(invalid("thickness", detail)
                        .with("wanted_um", thickness.get())
                        .with("most_um", THICKEST.get()));
                }
                Some(thickness)
            }
            None => None,
        };
        let (mut length, mut width) = STRIP;
        if let Some(strip) = &self.strip {
            (length, width) = (strip.length.value(), strip.width.value());
            positive("strip.length", strip.length.text(), length.get(), ())?;
            positive("strip.width", strip.width.text(), width.get(), ())?;
        }
        Ok(Strip {
            length,
            width,
            mass,
            thickness,
        })
    }

    fn along(
        &self,
        grain: Grain,
        readings: &[Vec<String>],
        strip: &Strip,
        day: NaiveDate,
    ) -> Done<GrainStiffness> {
        let field = grain.word();
        let (first, reading, method) = first_of(field, self.formula, readings)?;
        let strips = method == StiffnessMethod::HalfOverhang;
        let mass = strip.mass.ok_or_else(|| {
            Problem::from(invalid(
                "mass",
                format!("a length of {first} needs the mass per area too"),
            ))
            .hint("weigh a strip and give its mass, or state it with ellwand lot edit")
        });
        let mut found = GrainStiffness {
            grain,
            rigidity_unm: String::new(),
            method: Some(method),
            certainty: self.certainty.unwrap_or(if strips {
                Certainty::Measured
            } else {
                Certainty::Stated
            }),
            date: Some(day),
            readings: readings.to_vec(),
            overhang_m: None,
            bending_length_m: None,
            mass_gsm: None,
            thickness_m: strip.thickness.map(Metres),
            strip_length_m: strips.then_some(Metres(strip.length)),
            strip_width_m: strips.then_some(Metres(strip.width)),
            note: clean_text("note", "note", NOTE, self.note.as_ref())?,
        };
        if !strips && readings.iter().flatten().count() > 1 {
            let detail = format!(
                "give one figure along a grain; only overhangs take several, and {first} is not one"
            );
            return Err(invalid(field, detail));
        }
        let rigidity = match reading {
            Reading::Rigidity(nnm) => nnm,
            Reading::BendingLength(stated) => {
                let mass = mass?;
                let length = match strips {
                    true => {
                        let strips = overhangs(field, readings, strip.length)?;
                        check_alike(grain, &strips, self.really)?;
                        found.overhang_m = Some(Metres(strips.mean()));
                        strips.bending_length()
                    }
                    false => stated,
                };
                found.bending_length_m = Some(Metres(length));
                found.mass_gsm = Some(Gsm(mass));
                rigidity_from_bending_length(mass, length).map_err(|error| refuse(field, &error))?
            }
        };
        if rigidity == 0 {
            let detail = format!(
                "{first} makes a rigidity of less than a nanonewton metre: check the mass too"
            );
            return Err(invalid(field, detail));
        }
        found.rigidity_unm = decimal_unm(rigidity);
        Ok(found)
    }
}

/// The first reading along a grain, what it is, and how it was read.
fn first_of<'r>(
    field: &str,
    formula: Option<StiffnessMethod>,
    readings: &'r [Vec<String>],
) -> Done<(&'r String, Reading, StiffnessMethod)> {
    let first = readings.iter().flatten().next();
    let first = first.ok_or_else(|| invalid(field, "a strip has no reading, for example 62mm"))?;
    let printed = parse_printed(first, formula).map_err(|error| refuse(field, &error))?;
    Ok(match (printed, formula) {
        // A length of which nothing is said is what a ruler reads.
        ((reading @ Reading::BendingLength(_), _), None) => {
            (first, reading, StiffnessMethod::HalfOverhang)
        }
        ((reading, method), _) => (first, reading, method),
    })
}

/// The readings of strips, each a length.
fn overhangs(field: &str, readings: &[Vec<String>], strip: Micrometres) -> Done<Strips> {
    let mut read = Vec::with_capacity(readings.len());
    for one in readings {
        let lengths: Result<Vec<Micrometres>, QuantityError> =
            one.iter().map(|text| text.parse()).collect();
        read.push(lengths.map_err(|error| refuse(field, &error))?);
    }
    Strips::new(read, strip).map_err(|error| invalid(field, error.to_string()))
}

/// Asks whether strips that bend too differently were read right.
fn check_alike(grain: Grain, strips: &Strips, really: bool) -> Done<()> {
    let Some((least, most)) = strips.far_apart().filter(|_| !really) else {
        return Ok(());
    };
    let detail = format!(
        "the strips {grain} hang over by {} mm and {} mm: they are more than 20 % apart",
        decimal_mm(least),
        decimal_mm(most)
    );
    let asked = Problem::new(ProblemType::NeedsConfirmation, detail);
    Err(asked
        .hint("measure again; if they do bend so differently, confirm with --really")
        .with("least_um", least.get())
        .with("most_um", most.get())
        .into())
}

fn refuse(field: &str, error: &QuantityError) -> Failure {
    invalid(field, error.to_string())
}

fn positive<T>(field: &str, text: &str, number: i64, value: T) -> Done<T> {
    if number > 0 {
        return Ok(value);
    }
    Err(refuse(
        field,
        &QuantityError::NotPositive {
            text: text.to_owned(),
        },
    ))
}
