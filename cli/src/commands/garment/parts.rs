//! Reads `--part`: parts of a need, by the measures of their shell parts.

use crate::{
    command_error::CommandError,
    pairs::{PairsError, changed_fields},
};
use ellwand_contract::{
    garments::{NeedChange, NeedInput, PartChange, PartInput},
    text::spelled,
};
use serde::Serialize;
use serde_json::Value;

/// A part, and the role of its need: `need=collar canvas,name=collar,length=46cm,width=12cm,allowance=1cm,grain=bias`.
#[derive(Debug, Clone, Serialize, clap::Args)]
pub struct PartOf {
    #[arg(long, value_name = "collar canvas")]
    need: String,
    #[command(flatten)]
    #[serde(flatten)]
    part: PartInput,
}

/// What differs of a part, and the role of its need.
#[derive(Debug, Clone)]
pub struct ChangeOf {
    need: String,
    part: PartChange,
}

/// Reads `need=collar canvas,name=collar,length=47cm`.
///
/// # Errors
/// A key that is not known or cannot be read; no need or name.
pub fn parse_change(text: &str) -> Result<ChangeOf, PairsError> {
    let mut fields = changed_fields::<PartOf>(text, &["need", "name"])?;
    let need = match fields.remove("need") {
        Some(Value::String(need)) => need,
        _ => String::new(),
    };
    Ok(ChangeOf {
        need,
        part: PartChange::new(fields),
    })
}

/// Puts changes of parts into those of their needs.
pub fn add(needs: &mut Vec<NeedChange>, parts: Vec<ChangeOf>) {
    for ChangeOf { need, part } in parts {
        add_to(needs, &need, part);
    }
}

/// Puts a part's change into that of its need, whatever the capitals of the role.
pub fn add_to(needs: &mut Vec<NeedChange>, role: &str, part: PartChange) {
    let same = |name: &str| spelled(name).to_lowercase() == spelled(role).to_lowercase();
    match needs.iter_mut().find(|need| same(need.name())) {
        Some(need) => need.add_part(part),
        None => {
            let mut need = NeedChange::of(role.trim());
            need.add_part(part);
            needs.push(need);
        }
    }
}

/// Puts parts into the needs of their roles, whatever the capitals.
///
/// # Errors
/// Exit 2: a part of a need that is not given.
pub fn join(needs: &mut [NeedInput], parts: Vec<PartOf>) -> Result<(), CommandError> {
    let spelled = |text: &str| spelled(text).to_lowercase();
    for PartOf { need: role, part } in parts {
        let found = needs
            .iter_mut()
            .find(|need| spelled(&need.role) == spelled(&role));
        let need = found.ok_or_else(|| {
            let role = role.trim();
            CommandError::usage_hint(
                format!(
                    "--part {} belongs to the need {role}, but there is no --need for it",
                    part.name
                ),
                format!("add --need 'role={role},kind=interlining,…' too"),
            )
        })?;
        need.parts.push(part);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_domain::setting::{Grain, Measured, PartCut};

    fn read(text: &str) -> Result<PartOf, String> {
        crate::pairs::parse_args(text).map_err(|error| error.to_string())
    }

    #[test]
    fn a_part_is_read_and_put_into_its_need() {
        let collar =
            read("need=Collar  canvas,name=collar,length=18 1/8 in,width=12cm,allowance=1cm,count=2,cut=with,grain=bias,measures=without")
                .expect("a part");
        let plain = read("need=collar canvas,name=stand,length=44cm,width=5cm").expect("a part");
        let mut needs = vec![NeedInput {
            role: "collar canvas".to_owned(),
            ..NeedInput::default()
        }];
        join(&mut needs, vec![collar, plain]).expect("joined");
        let [collar, stand] = needs[0].parts.as_slice() else {
            panic!("two parts")
        };
        assert_eq!((collar.length.as_str(), collar.count), ("18 1/8 in", 2));
        assert_eq!(
            (collar.cut, collar.measures),
            (Some(PartCut::With), Some(Measured::Without))
        );
        assert_eq!(
            (collar.grain, stand.grain, stand.count),
            (Some(Grain::Bias), None, 1)
        );
    }

    #[test]
    fn a_part_that_cannot_be_read_names_the_key() {
        let fault = |text| read(text).expect_err("a faulty part");
        assert!(
            fault("need=a,name=b,width=5cm")
                .ends_with("length is missing, for example length=46cm")
        );
        assert!(
            fault("name=b,length=4cm,width=5cm")
                .ends_with("need is missing, for example need=collar canvas")
        );
        assert!(
            fault("need=a,name=b,length=44,width=5cm").starts_with("length: \"44\" needs a unit")
        );
        assert!(
            fault("need=a,name=b,length=4cm,width=5cm,cut=half")
                .starts_with("cut: \"half\" is not a way to cut")
        );
        assert!(
            fault("need=a,name=b,length=4cm,width=5cm,colour=red")
                .starts_with("\"colour\" is not a key here")
        );
    }

    #[test]
    fn a_part_of_a_need_that_is_not_given_is_refused() {
        let stand = read("need=collar,name=stand,length=44cm,width=5cm").expect("a part");
        let error = join(&mut [], vec![stand]).expect_err("no need");
        assert_eq!(
            error.message(),
            "--part stand belongs to the need collar, but there is no --need for it"
        );
    }
}
