//! `lookwright plate`.

use super::bench::{Bench, HEIGHT, WIDTH, names_in};
use lookwright_film::look::Look;
use lookwright_picture::{seed_of_shot, with_seeds};

#[test]
fn grain_plates_lie_around_the_middle_and_differ_from_frame_to_frame() {
    let bench = Bench::new();
    bench
        .run(&[
            "plate",
            "look.json",
            "--kind",
            "grain",
            "--size",
            "200x120",
            "--frames",
            "2",
            "-o",
            "plates",
        ])
        .success();
    assert_eq!(
        names_in(&bench.path("plates")),
        ["blend.txt", "gain.cube", "grain.0001.png", "grain.0002.png"]
    );
    let (one, two) = (
        bench.decode("plates/grain.0001.png"),
        bench.decode("plates/grain.0002.png"),
    );
    assert_eq!((one.width, one.height, one.file_bits), (200, 120, 16));
    let green = |picture: &lookwright_picture::Decoded| picture.to_planes()[1].clone();
    let (one, two) = (green(&one), green(&two));
    let mean = |plane: &[f32]| plane.iter().sum::<f32>() / plane.len() as f32;
    assert!((mean(&one) - 0.5).abs() < 0.01);
    let spread = |a: &[f32], b: &[f32]| {
        let (a0, b0) = (mean(a), mean(b));
        a.iter()
            .zip(b)
            .map(|(x, y)| (x - a0) * (y - b0))
            .sum::<f32>()
            / a.len() as f32
    };
    let variance = spread(&one, &one);
    assert!(variance > 1e-8);
    assert!(
        (spread(&one, &two) / variance).abs() < 0.1,
        "frames are not correlated"
    );
}

#[test]
fn a_halation_plate_is_light_where_the_picture_is_bright() {
    let bench = Bench::new();
    let plate = [
        "plate",
        "look.json",
        "--kind",
        "halation",
        "--from",
        "logc3",
    ];
    bench
        .run(
            &[
                &plate[..],
                &[
                    "--picture",
                    "frame.png",
                    "--exposure",
                    "3",
                    "-o",
                    "glow.png",
                ],
            ]
            .concat(),
        )
        .success();
    let glow = bench.decode("glow.png");
    assert_eq!((glow.width, glow.height), (WIDTH, HEIGHT));
    let [red, _, blue] = glow.to_planes();
    let most = |plane: &[f32]| plane.iter().copied().fold(0.0, f32::max);
    assert!(red.iter().all(|v| *v > 0.4999), "it only adds light");
    let [most_red, most_blue] = [most(&red), most(&blue)];
    assert!(
        most_red > 0.500_02 && most_red > most_blue,
        "and that is red: {most_red}, {most_blue}"
    );
    let complaint = bench.complaint(&[&plate[..], &["-o", "glow.png"]].concat());
    assert!(complaint.contains("--picture"), "{complaint}");
}

#[test]
fn a_look_without_the_texture_says_so() {
    let bench = Bench::new();
    let complaint = bench.complaint(&["plate", "look.json", "--kind", "dust", "-o", "plates"]);
    assert!(complaint.contains("this look has no dust"), "{complaint}");
}

/// A shot's plates are those of a look with the seeds that rendering the shot gives it.
#[test]
fn a_shot_s_plates_are_numbered_and_drawn_as_its_frames_are() {
    let bench = Bench::new();
    let look = Look::read(&std::fs::read_to_string(bench.path("look.json")).unwrap()).unwrap();
    let seeded = with_seeds(&look, |own| seed_of_shot(own, "ferry"));
    std::fs::write(bench.path("seeded.json"), seeded.canonical()).unwrap();
    let plate = |look: &str, folder: &str, more: &[&str]| {
        let common = [
            "plate", look, "--kind", "grain", "--size", "60x40", "-o", folder,
        ];
        let numbers = ["--frames", "2", "--first-frame", "1001"];
        bench.run(&[&common[..], &numbers, more].concat()).success();
        let folder = bench.path(folder);
        assert_eq!(
            names_in(&folder),
            ["blend.txt", "gain.cube", "grain.1001.png", "grain.1002.png"]
        );
        std::fs::read(folder.join("grain.1002.png")).unwrap()
    };
    let ferry = plate("look.json", "ferry", &["--shot", "ferry"]);
    assert_eq!(ferry, plate("seeded.json", "seeded", &[]));
    assert!(ferry != plate("look.json", "own", &[]));
}
