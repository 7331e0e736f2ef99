//! The negative on a light table against spectral integration.
//!
//! `reference/light_table.json` is made by `reference/film/light_table.py` with colour-science 0.4.7
//! (CIE 1931 observer, D50, sRGB; the dyes' spectra are chosen).

use lookwright_colour::Rgb;
use lookwright_colour::encoding::Curve;
use lookwright_colour::space::{Lab, delta_e_2000, primaries::BT709, white::D65};
use lookwright_render::judge::negative_view;
use serde_json::Value;

fn lab(code: [f64; 3]) -> Lab {
    let light = code.map(|c| f64::from(Curve::Srgb.decode(c as f32)));
    Lab::from_xyz(BT709.rgb_to_xyz().apply(light), D65)
}

#[test]
fn a_negative_looks_as_its_dyes_let_the_light_through() {
    let reference: Value =
        serde_json::from_str(include_str!("reference/light_table.json")).unwrap();
    let triple = |value: &Value| [0, 1, 2].map(|i| value[i].as_f64().unwrap());
    let mut apart: Vec<f64> = reference["negatives"]
        .as_array()
        .unwrap()
        .iter()
        .map(|negative| {
            let density = triple(&negative["density"]).map(|d| d as f32);
            let ours = negative_view(Rgb::from_array(density), true).to_array();
            delta_e_2000(lab(ours.map(f64::from)), lab(triple(&negative["srgb"])))
        })
        .collect();
    apart.sort_unstable_by(f64::total_cmp);
    let mean = apart.iter().sum::<f64>() / apart.len() as f64;
    let most = apart[apart.len() - 1];
    println!("mean {mean:.2}, most {most:.2}");
    assert!(mean < 1.0 && most < 4.0, "{mean} {most}");
}
