//! A device link as moxcms reads it, a reader that shares no code with the writer (little-cms applies one in
//! `tests/reference/check_tables.py`).

use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_film::look::{Delivery, Look, StartingStock};
use lookwright_handover::{Baked, Format, Recipe, Split};
use moxcms::{ColorProfile, DataColorSpace, LutStore, LutWarehouse, ProfileClass};

#[test]
fn moxcms_finds_the_lattice_that_was_written() {
    let size = 9;
    let recipe = Recipe {
        look: Look::starting(StartingStock::Overcast),
        encoding: EncodingId::Rec709,
        range: Range::Full,
        delivery: Delivery::default(),
        split: Split::Whole,
        scene: None,
        grid: size,
    };
    let baked = Baked::new(recipe).unwrap();
    let bytes = baked.write(Format::Icc).unwrap();
    let profile = ColorProfile::new_from_slice(&bytes).unwrap();
    assert!(matches!(profile.profile_class, ProfileClass::DeviceLink));
    assert_eq!(profile.color_space, DataColorSpace::Rgb);
    assert_eq!(profile.pcs, DataColorSpace::Rgb);
    let Some(LutWarehouse::Lut(lut)) = profile.lut_a_to_b_perceptual else {
        panic!("no table of codes in the link");
    };
    assert_eq!(
        [
            lut.num_input_channels,
            lut.num_output_channels,
            lut.num_clut_grid_points
        ],
        [3, 3, size as u8]
    );
    let LutStore::Store16(codes) = lut.clut_table else {
        panic!("the table has no 16 bits");
    };
    for (place, code) in codes.as_chunks::<3>().0.iter().enumerate() {
        // Blue is fastest in a profile.
        let node = [place / (size * size), place / size % size, place % size];
        let wanted = baked.grid().node(node);
        for channel in 0..3 {
            let held = wanted[channel].clamp(0.0, 1.0) * 65_535.0;
            assert!((f32::from(code[channel]) - held).abs() < 0.51, "{node:?}");
        }
    }
    for table in [lut.input_table, lut.output_table] {
        assert!(matches!(table, LutStore::Store16(ends) if ends == [0, 65_535].repeat(3)));
    }
}
