//! Packs with tables to scene code, for pipelines that render for the display themselves.

use lookwright_film::look::StartingStock;
use lookwright_film::path::scene_out::{Rendering, SceneCode};

use super::tests::{files, text_of, zip_of};
use super::*;

const TABLE: &str = "day-250/quay_day-250_logc3-full_to_acescct-aces_grid5";

fn pack(encoding: EncodingId) -> Pack {
    let mut look = Look::starting(StartingStock::Overcast);
    look.name = "Quay".to_owned();
    let stock = StockChoice::parse("day-250").unwrap();
    Pack {
        grid: 5,
        stocks: vec![stock],
        scene: vec![SceneCode::new(encoding, Rendering::Aces).unwrap()],
        ..Pack::new(vec![look], vec![EncodingId::LogC3])
    }
}

#[test]
fn a_table_to_scene_code_is_in_the_pack_its_note_its_manifest_and_its_configuration() {
    let pack = pack(EncodingId::AcesCct);
    let files = files(zip_of(&pack));
    let table = files
        .iter()
        .find(|(path, _)| *path == format!("{TABLE}.clf"));
    let recipe = crate::Recipe {
        scene: Some(pack.scene[0]),
        ..pack.recipes(&pack.entries()[0]).swap_remove(1)
    };
    let alone = crate::Baked::new(recipe)
        .unwrap()
        .write(Format::Clf)
        .unwrap();
    assert!(table.unwrap().1 == alone, "as `table` writes it");

    let note = text_of(&files, "README.txt");
    assert!(note.contains("..._to_acescct-aces_..."), "{note}");
    let words: Vec<&str> = note.split_whitespace().collect();
    let told = "Tables to scene code are its looks";
    assert!(words.join(" ").contains(told), "{note}");
    let manifest: serde_json::Value =
        serde_json::from_str(&text_of(&files, "manifest.json")).unwrap();
    let listed = manifest["files"].as_array().unwrap().iter();
    let outputs: Vec<_> = listed
        .filter(|file| file["path"] == format!("{TABLE}.clf"))
        .map(|file| &file["output"])
        .collect();
    let output = serde_json::json!({ "encoding": "acescct", "range": "full", "undone": "aces" });
    assert_eq!(outputs, [&output]);

    let config = text_of(&files, "config.ocio");
    for part in [
        "  - !<Look>\n    name: quay day-250 logc3-full to acescct-aces grid5\n    process_space: AP0\n",
        "    name: acescct-full\n",
        "src: ocio/acescct_to_light.spi1d",
    ] {
        assert!(config.contains(part), "{part}\n{config}");
    }
    assert!(
        files
            .iter()
            .any(|(path, _)| path == "ocio/acescct_to_light.spi1d")
    );
    assert_eq!(
        config.matches("!<View>").count(),
        1,
        "the table for the screen alone"
    );
}

#[test]
fn tables_to_scene_code_are_counted_and_not_judged() {
    let mut pack = pack(EncodingId::AcesCct);
    let plan = pack.plan().unwrap();
    assert_eq!((plan.tables, plan.kinds.len()), (4, 1));
    assert!(plan.has_config);
    let files = files(zip_of(&pack));
    let health = files.iter().filter(|(path, _)| path.starts_with("health/"));
    assert_eq!(health.count(), 1);
    // Doubles fall out, and so does the configuration where there is no table that it could read.
    pack.scene.push(pack.scene[0]);
    pack.formats = vec![Format::Icc];
    assert_eq!(pack.count_tables().unwrap(), 2);
    assert!(!pack.plan().unwrap().has_config);
}

#[test]
fn light_comes_out_of_clf_alone() {
    let mut pack = pack(EncodingId::AcesCg);
    assert_eq!(
        pack.plan().unwrap_err().message(),
        "acescg is light, which only .clf can make of what a lattice holds: choose the format clf alone, or acescct"
    );
    pack.formats = vec![Format::Clf];
    let config = text_of(&files(zip_of(&pack)), "config.ocio");
    assert!(
        config.contains("    name: acescg-full\n    family: Input\n"),
        "{config}"
    );
    assert!(!config.contains("acescg_to_light"), "light needs no curve");
}
