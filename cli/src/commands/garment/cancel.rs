//! `ellwand garment cancel`.

use super::screen;
use crate::{
    command_error::CommandError,
    context::Context,
    pairs::PairsError,
    typed,
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use ellwand_contract::garments::{CancelGarment, CutMaterial, Garment, ReturnedLength};
use ellwand_domain::code::GarmentCode;
use uuid::Uuid;

/// Cancel a garment
///
/// Releases its promises. If something was cut for it, choose with --cut-material what should happen to that: a loss,
/// another garment (with its cost), or back on the shelf as new pieces (the rest is lost).
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand garment cancel G5\n  \
    ellwand garment cancel G5 --cut-material garment=G7\n  \
    ellwand garment cancel G5 --cut-material shelf \\\n    --return 'B12=0.50m x 40cm' --return 'B14=3'")]
pub struct Args {
    /// Garment code, such as G5
    garment: GarmentCode,
    /// What should happen to cut material: loss, garment=G7, shelf
    #[arg(long, value_name = "WHERE", value_parser = cut_material)]
    cut_material: Option<CutMaterial>,
    /// Length or count of a cut to put back on the shelf: B12=0.50m or, narrower, B12=0.50m x 40cm
    #[arg(long = "return", value_name = "B12=LENGTH", value_parser = returned, requires = "cut_material")]
    returned: Vec<ReturnedLength>,
    /// Day [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let act = CancelGarment {
            id: Uuid::nil(),
            garment: self.garment,
            cut_material: destination(self.cut_material, &self.returned)?,
            date: self.date,
        };
        act.run(context)
    }
}

impl Verb for CancelGarment {
    fn show(&self, answer: Garment, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        screen::garment(context, &answer)?;
        let (code, title) = (answer.garment, screen::title(&answer));
        context.ui.status(format!("Cancelled {code}, {title}."));
        Ok(())
    }
}

/// Joins `--cut-material shelf` with its `--return` flags.
fn destination(
    cut_material: Option<CutMaterial>,
    returned: &[ReturnedLength],
) -> Result<Option<CutMaterial>, CommandError> {
    match cut_material {
        Some(CutMaterial::Shelf(_)) if returned.is_empty() => Err(CommandError::usage_hint(
            "nothing is named to put back on the shelf",
            "name the cut and the length that is left, for example --return B12=0.50m",
        )),
        Some(CutMaterial::Shelf(_)) => Ok(Some(CutMaterial::Shelf(returned.to_vec()))),
        _ if !returned.is_empty() => Err(CommandError::usage(
            "--return goes only with --cut-material shelf",
        )),
        other => Ok(other),
    }
}

/// Reads `loss`, `garment=G7` or `shelf`.
fn cut_material(text: &str) -> Result<CutMaterial, PairsError> {
    match text.split_once('=') {
        None if text == "loss" => Ok(CutMaterial::Loss),
        None if text == "shelf" => Ok(CutMaterial::Shelf(Vec::new())),
        Some(("garment", code)) => code
            .parse()
            .map(CutMaterial::Garment)
            .map_err(|error| PairsError::new(format!("{error}"))),
        _ => Err(PairsError::new(format!(
            "\"{text}\" is not a destination; choose loss, garment=G7 or shelf"
        ))),
    }
}

/// Reads `B12=0.50m`, `B12=0.50m x 40cm` or `B12=3`.
fn returned(text: &str) -> Result<ReturnedLength, PairsError> {
    let fault = |error: &dyn std::fmt::Display| PairsError::new(error.to_string());
    let example = || {
        PairsError::new(format!(
            "\"{text}\" is not a cut and a length, for example B12=0.50m"
        ))
    };
    let (booking, amount) = text.split_once('=').ok_or_else(example)?;
    let (amount, width) = match typed::by_times(amount) {
        Some((length, width)) => (length, Some(width.parse().map_err(|error| fault(&error))?)),
        None => (amount, None),
    };
    let amount = typed::length_or_count(amount).map_err(PairsError::new)?;
    let booking = booking.parse().map_err(|error| fault(&error))?;
    Ok(ReturnedLength {
        booking,
        amount,
        width,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_return_names_a_cut_and_a_length_a_panel_or_a_count() {
        let read = |text| {
            returned(text).map(|r| (r.booking.get(), r.amount, r.width.map(|w| w.value().get())))
        };
        assert_eq!(read("B12=0.50m"), Ok((12, "0.50m".to_owned(), None)));
        assert_eq!(
            read("b12=0.50m x 40cm"),
            Ok((12, "0.50m".to_owned(), Some(400_000)))
        );
        assert_eq!(read("B14=3"), Ok((14, "3".to_owned(), None)));
        assert!(
            read("B12=0.50")
                .expect_err("no unit")
                .to_string()
                .contains("needs a unit")
        );
        assert!(
            read("G12=0.50m")
                .expect_err("a garment")
                .to_string()
                .contains("is the code of a garment, not of a booking")
        );
        assert!(read("0.50m").is_err());
    }

    #[test]
    fn cut_material_goes_to_a_loss_a_garment_or_the_shelf() {
        assert_eq!(cut_material("loss"), Ok(CutMaterial::Loss));
        assert_eq!(
            cut_material("garment=G7"),
            Ok(CutMaterial::Garment(GarmentCode::new(7)))
        );
        assert!(cut_material("bin").is_err() && cut_material("garment=L7").is_err());
    }

    #[test]
    fn lengths_go_back_to_the_shelf_only() {
        let length = returned("B12=0.50m").expect("a return");
        let shelf = destination(
            Some(CutMaterial::Shelf(Vec::new())),
            std::slice::from_ref(&length),
        );
        assert!(matches!(shelf, Ok(Some(CutMaterial::Shelf(list))) if list == [length.clone()]));
        assert!(destination(Some(CutMaterial::Shelf(Vec::new())), &[]).is_err());
        assert!(destination(Some(CutMaterial::Loss), &[length]).is_err());
    }
}
