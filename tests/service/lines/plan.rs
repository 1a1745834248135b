//! Plans and promises as they are typed.

use super::{Answer, Asking};
use chrono::NaiveDate;
use clap::Args;
use ellwand_contract::{
    Problem, ProblemType, Typed,
    garments::{
        CancelGarment, CutMaterial, EditGarment, GetCandidates, NeedChange, NeedInput,
        OperationInput, PartChange, PartInput, Pick, PlanGarment, ReturnedLength,
    },
    pairs,
    reservations::Reserve,
    seams::{SeamInput, parse_named_seam},
    text, typed,
};
use ellwand_domain::{
    code::{GarmentCode, PieceCode},
    quantity::Micrometres,
};
use uuid::Uuid;

#[derive(Args)]
pub struct Planning {
    name: String,
    #[arg(long)]
    r#for: Option<String>,
    #[arg(long, default_value_t = 1)]
    count: i64,
    #[arg(long)]
    due: Option<NaiveDate>,
    #[arg(long)]
    date: Option<NaiveDate>,
    #[arg(long)]
    note: Option<String>,
    #[arg(long, value_parser = pairs::parse_args::<NeedInput>)]
    need: Vec<NeedInput>,
    #[arg(long, value_parser = pairs::parse_args::<PartOf>)]
    part: Vec<PartOf>,
    #[arg(long, value_parser = pairs::parse_args::<OperationInput>)]
    operation: Vec<OperationInput>,
    #[arg(long, value_parser = parse_named_seam)]
    seam: Vec<SeamInput>,
    #[arg(long)]
    seam_ends: Option<String>,
    #[arg(long)]
    seam_waste: Option<String>,
    #[arg(long)]
    check: bool,
}

/// A part, and the role of its need.
#[derive(Clone, serde::Serialize, Args)]
pub struct PartOf {
    #[arg(long)]
    need: String,
    #[command(flatten)]
    #[serde(flatten)]
    part: PartInput,
}

/// What differs of a part, in the change of its need.
fn part_change(text: &str) -> Result<NeedChange, pairs::PairsError> {
    let mut fields = pairs::changed_fields::<PartOf>(text, &["need", "name"])?;
    let need = fields.remove("need").unwrap();
    let mut change = NeedChange::of(need.as_str().unwrap());
    change.add_part(PartChange::new(fields));
    Ok(change)
}

/// Whatever the capitals.
fn spelled(role: &str) -> String {
    text::spelled(role).to_lowercase()
}

fn join(mut needs: Vec<NeedInput>, parts: Vec<PartOf>) -> Vec<NeedInput> {
    for PartOf { need: role, part } in parts {
        let mut of_role = needs
            .iter_mut()
            .filter(|need| spelled(&need.role) == spelled(&role));
        of_role.next().unwrap().parts.push(part);
    }
    needs
}

impl Planning {
    pub fn act(self) -> PlanGarment {
        PlanGarment {
            check: self.check,
            id: Uuid::nil(),
            name: self.name,
            customer: self.r#for,
            count: self.count,
            due: self.due,
            note: self.note,
            needs: join(self.need, self.part),
            operations: self.operation,
            seams: self.seam,
            seam_ends: self.seam_ends,
            seam_waste: self.seam_waste,
            date: self.date,
        }
    }
}

#[derive(Args)]
pub struct Editing {
    #[command(flatten)]
    act: EditGarment,
    #[arg(long, value_parser = part_change)]
    part: Vec<NeedChange>,
}

impl Editing {
    pub fn act(self) -> EditGarment {
        let mut act = self.act;
        for mut of in self.part {
            let needs = &mut act.changes.needs;
            let role = spelled(of.name());
            match needs.iter_mut().find(|need| spelled(need.name()) == role) {
                None => needs.push(of),
                Some(need) => {
                    for part in of.take_parts().unwrap() {
                        need.add_part(part);
                    }
                }
            }
        }
        act
    }
}

#[derive(Args)]
pub struct Cancelling {
    garment: GarmentCode,
    /// loss, garment=G7 or shelf
    #[arg(long)]
    cut_material: Option<String>,
    #[arg(long = "return", value_parser = returned)]
    returned: Vec<ReturnedLength>,
    #[arg(long)]
    date: Option<NaiveDate>,
}

/// `B12=0.50m`, `B12=0.50m x 40cm` or `B12=3`.
fn returned(text: &str) -> Result<ReturnedLength, String> {
    let (booking, amount) = text.split_once('=').ok_or("a cut and a length")?;
    let (amount, width) = match typed::by_times(amount) {
        Some((length, width)) => (length, Some(width.parse().unwrap())),
        None => (amount, None),
    };
    Ok(ReturnedLength {
        booking: booking.parse().unwrap(),
        amount: amount.to_owned(),
        width,
    })
}

impl Cancelling {
    pub fn act(self) -> CancelGarment {
        let returned = self.returned;
        let to = self.cut_material.map(|to| match to.split_once('=') {
            Some((_, garment)) => CutMaterial::Garment(garment.parse().unwrap()),
            None if to == "shelf" => CutMaterial::Shelf(returned),
            None => CutMaterial::Loss,
        });
        CancelGarment {
            id: Uuid::nil(),
            garment: self.garment,
            cut_material: to,
            date: self.date,
        }
    }
}

#[derive(Args)]
pub struct Reserving {
    garment: GarmentCode,
    need: Option<String>,
    #[arg(long)]
    from: Vec<String>,
    #[arg(long)]
    count: Option<i64>,
    #[arg(long)]
    washed_length: Option<Typed<Micrometres>>,
    /// The best pieces for every open need
    #[arg(long)]
    all: bool,
    #[arg(long)]
    until: Option<NaiveDate>,
    #[arg(long)]
    date: Option<NaiveDate>,
}

impl Reserving {
    pub fn ask(self, asking: &Asking<'_>) -> Answer {
        let picks = match (&self.need, self.all) {
            (Some(need), false) => self.from.iter().map(|from| self.pick(need, from)).collect(),
            _ => best(self.garment, asking)?,
        };
        asking.ask(Reserve {
            id: Uuid::nil(),
            garment: self.garment,
            picks,
            until: self.until,
            date: self.date,
        })
    }

    /// `L5.1`, `L5.1:4` or `L5.1:100m`.
    fn pick(&self, need: &str, from: &str) -> Pick {
        let (piece, share) = from.split_once(':').unwrap_or((from, ""));
        let piece: PieceCode = piece.parse().unwrap();
        Pick {
            need: need.to_owned(),
            piece,
            units: self.count,
            washed_length: share.parse().ok().or_else(|| self.washed_length.clone()),
            trims: share.parse().ok(),
        }
    }
}

/// The best pieces for every open need.
fn best(garment: GarmentCode, asking: &Asking<'_>) -> Result<Vec<Pick>, Box<Problem>> {
    let found = asking.call(&GetCandidates {
        garment,
        need: None,
    })?;
    let open = found.needs.into_iter().filter(|need| need.units_open > 0);
    let mut picks = Vec::new();
    for need in open {
        if need.picks.is_empty() {
            let detail = format!("nothing serves the {}", need.role);
            return Err(Box::new(Problem::new(ProblemType::DoesNotServe, detail)));
        }
        picks.extend(need.picks);
    }
    Ok(picks)
}
