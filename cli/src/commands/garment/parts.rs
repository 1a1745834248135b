//! Reads `--part`: parts of a need, by the measures of their shell parts.

use crate::command_error::CommandError;
use ellwand_contract::{
    garments::{NeedInput, PartInput},
    text::spelled,
};

/// A part, and the role of its need: `need=collar canvas,name=collar,length=46cm,width=12cm,allowance=1cm,grain=bias`.
#[derive(Debug, Clone, clap::Args)]
pub struct PartOf {
    #[arg(long, value_name = "collar canvas")]
    need: String,
    #[command(flatten)]
    part: PartInput,
}

/// Puts parts into the needs of their roles, whatever the capitals.
///
/// # Errors
/// Exit 2: a part of a need that is not given.
pub fn join(
    needs: &mut [NeedInput],
    parts: Vec<PartOf>,
    flags: (&str, &str),
) -> Result<(), CommandError> {
    let spelled = |text: &str| spelled(text).to_lowercase();
    let (flag, need_flag) = flags;
    for PartOf { need: role, part } in parts {
        let found = needs
            .iter_mut()
            .find(|need| spelled(&need.role) == spelled(&role));
        let need = found.ok_or_else(|| {
            let role = role.trim();
            CommandError::usage_hint(
                format!(
                    "{flag} {} belongs to the need {role}, but there is no {need_flag} for it",
                    part.name
                ),
                format!(
                    "add {need_flag} 'role={role},kind=interlining,…' too; a need is given as a whole"
                ),
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
        join(&mut needs, vec![collar, plain], ("--part", "--need")).expect("joined");
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
        let error = join(&mut [], vec![stand], ("--part", "--need")).expect_err("no need");
        assert_eq!(
            error.message(),
            "--part stand belongs to the need collar, but there is no --need for it"
        );
    }
}
