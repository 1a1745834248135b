//! Files that people write, with anything in them: one error that names the file, and nothing booked.

use ellwand::Environment;
use proptest::{prelude::*, test_runner::RngSeed};
use std::{ffi::OsString, fs, path::Path};
use tempfile::TempDir;

fn run(folder: &Path, args: &[&str]) -> (u8, String, String) {
    let environment = Environment {
        data_dir: Some(folder.join("data")),
        config_dir: Some(folder.join("config")),
        state_dir: Some(folder.join("state")),
        width: Some(100),
        no_color: true,
        ..Environment::default()
    };
    let args = std::iter::once("ellwand")
        .chain(args.iter().copied())
        .map(OsString::from);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = ellwand::run(args, &environment, &mut out, &mut err);
    (
        code,
        String::from_utf8(out).unwrap(),
        String::from_utf8(err).unwrap(),
    )
}

/// Pieces of files as people write them, put together in any order.
fn torn() -> impl Strategy<Value = Vec<u8>> {
    let pieces = prop::sample::select(vec![
        "supplier = \"Quay\"\n",
        "date = \"2026-02-30\"\n",
        "date = 2026-02-03\n",
        "rate = 1.17\n",
        "[[line]]\n",
        "[line]\n",
        "material = { kind = \"cloth\", name = \"linen\", full_width = \"150cm\" }\n",
        "material = \"linen\"\n",
        "paid = \"4.00m\"\n",
        "paid = 4\n",
        "price = \"88.00\"\n",
        "price = \"88,0000\"\n",
        "[[charge]]\nkind = \"freight\"\namount = \"12.00\"\n",
        "material,kind,paid,price,full-width\n",
        "linen,cloth,4m,88.00,150cm\n",
        "linen,cloth,4,88.00\n",
        "\"linen,cloth\n",
        ",,,,,,\n",
        "\u{feff}",
        "\0",
        "é\r\n",
        "= \"\n",
    ]);
    prop_oneof![
        prop::collection::vec(any::<u8>(), 0..200),
        prop::collection::vec(pieces, 0..8).prop_map(|pieces| pieces.concat().into_bytes()),
    ]
}

fn configuration() -> ProptestConfig {
    let asked = ProptestConfig::default();
    ProptestConfig {
        cases: 100,
        rng_seed: RngSeed::Fixed(20_261_125),
        failure_persistence: None,
        ..asked
    }
}

proptest! {
    #![proptest_config(configuration())]

    #[test]
    fn a_purchase_file_of_anything_is_booked_whole_or_refused(bytes in torn(), table in any::<bool>()) {
        let folder = TempDir::new().unwrap();
        let name = folder.path().join(if table { "lines.csv" } else { "purchase.toml" });
        fs::write(&name, bytes).unwrap();
        let (code, out, err) = run(folder.path(), &["buy", "--yes", "--file", name.to_str().unwrap()]);
        prop_assert!(code <= 2, "{code} {out}{err}");
        prop_assert_eq!(err.matches("error: ").count(), usize::from(code > 0), "{}{}", out, err);
        let (_, history, _) = run(folder.path(), &["history", "--json"]);
        let booked = history.matches("\"booking\": \"B").count();
        prop_assert_eq!(booked, usize::from(code == 0), "{} {}{}", code, history, err);
    }

    #[test]
    fn a_plan_of_anything_is_planned_whole_or_refused(bytes in torn()) {
        let folder = TempDir::new().unwrap();
        let name = folder.path().join("plan.toml");
        fs::write(&name, bytes).unwrap();
        let (code, out, err) = run(folder.path(), &["garment", "plan", "--file", name.to_str().unwrap()]);
        prop_assert!(code <= 2, "{code} {out}{err}");
        let (_, garments, _) = run(folder.path(), &["garment", "list", "--json"]);
        prop_assert_eq!(garments.matches("\"garment\": \"G").count(), usize::from(code == 0), "{}{}", garments, err);
    }
}
