//! Strips and partitions against the whole picture.

use super::*;
use crate::reference::{render, unstyled};
use lookwright_colour::error::Error;
use lookwright_film::look::{
    Backing, Delivery, Frame, HalationMethod, Look, Options, StageId, StartingStock,
};
use lookwright_film::spatial::Window;

impl PictureRows for Planes {
    fn size(&self) -> (usize, usize) {
        (self.width, self.height)
    }
    fn rows(&self, rows: Range<usize>) -> Planes {
        let span = rows.start * self.width..rows.end * self.width;
        Planes {
            width: self.width,
            height: rows.len(),
            planes: self
                .planes
                .each_ref()
                .map(|plane| plane[span.clone()].to_vec()),
        }
    }
}

/// A noisy night with lamps, some of them where strips meet.
pub(crate) fn night(width: usize, height: usize) -> Planes {
    let mut picture = Planes::filled(width, height, 0.0);
    let mut state = 7_u32;
    for plane in &mut picture.planes {
        for (i, value) in plane.iter_mut().enumerate() {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = (state >> 8) as f32 / 16_777_216.0;
            *value = if i % 4099 == 60 {
                0.98
            } else {
                0.2 + 0.3 * noise
            };
        }
    }
    picture
}

fn job(width: usize, height: usize) -> Job {
    let mut look = Look::starting(StartingStock::Evening);
    look.for_each_step(|step| step.set_on(true));
    look.negative.softness.spread = 1.2;
    Job {
        look,
        frame: Frame::read(r#"{"source":{"encoding":"logc3"}}"#).unwrap(),
        delivery: Delivery::default(),
        stage: StageId::Screen,
        window: Window::whole(width, height),
        frame_number: 5,
    }
}

/// All strips on top of each other, without keeping anything between the rounds.
fn joined_anew(source: &Planes, job: &Job) -> Planes {
    let size = source.size();
    let partition = Partition::of(size, job, job.plan(), 0..size.1, 0);
    let mut out = Planes::filled(source.width, 0, 0.0);
    let take = |_, strip: Planes| {
        out.append(strip);
        Ok(())
    };
    all_rounds(partition, source, &OneThread, |_| Ok(()), take).unwrap();
    out
}

/// A picture that only has the rows that a partition asked for.
struct Asked<'a>(&'a Planes, Range<usize>);

impl PictureRows for Asked<'_> {
    fn size(&self) -> (usize, usize) {
        self.0.size()
    }
    fn rows(&self, rows: Range<usize>) -> Planes {
        assert_eq!(rows, self.1, "other rows than were asked for");
        self.0.rows(rows)
    }
}

/// Each of `count` with each other.
fn pairs(count: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..count * count)
        .map(move |i| (i / count, i % count))
        .filter(|(from, to)| from != to)
}

/// In partitions that begin at `cuts`, each of which keeps at most `most_kept` pixels.
pub(crate) fn shared(source: &Planes, job: &Job, cuts: &[usize], most_kept: usize) -> Planes {
    let size = source.size();
    let ends = cuts.iter().skip(1).chain([&size.1]);
    let mut partitions: Vec<Partition> = cuts
        .iter()
        .zip(ends)
        .map(|(&from, &to)| Partition::of(size, job, job.plan(), from..to, most_kept).in_sequence())
        .collect();
    let mut out = vec![Planes::filled(source.width, 0, 0.0); partitions.len()];
    loop {
        let mut results: Vec<RoundResults> = partitions.iter().map(Partition::begin).collect();
        for ((partition, results), out) in partitions.iter_mut().zip(&mut results).zip(&mut out) {
            let mut carried = CarriedRows::default();
            for strip in 0..partition.strips() {
                let asked = Asked(source, partition.needs(strip, true));
                if let Some(rows) = partition.follow(strip, &asked, &mut carried, results) {
                    out.append(rows);
                }
            }
        }
        if partitions[0].is_last() {
            break;
        }
        for layer in 0..3 {
            for plane in [1, 2].map(|level| HaloPlane { layer, level }) {
                let both = partitions.iter().zip(&mut results);
                let ranges: Vec<HaloRanges> = both.map(|(s, t)| s.halo_ranges(t, plane)).collect();
                for (from, to) in pairs(partitions.len()) {
                    let (own, wanted) = (&ranges[from].own, &ranges[to].wanted);
                    let rows = own.start.max(wanted.start)..own.end.min(wanted.end);
                    if !rows.is_empty() {
                        let values = results[from].read_halo(plane, rows.clone()).unwrap();
                        assert_eq!(values.len(), rows.len() * ranges[to].columns);
                        results[to].write_halo(plane, rows.start, &values).unwrap();
                    }
                }
            }
            for (partition, results) in partitions.iter_mut().zip(&mut results) {
                partition.close_halo(results, layer);
            }
        }
        for (partition, results) in partitions.iter_mut().zip(results) {
            partition.next_round(results);
        }
    }
    let mut whole = Planes::filled(source.width, 0, 0.0);
    out.into_iter().for_each(|part| whole.append(part));
    whole
}

#[test]
fn shares_are_the_whole_picture_bit_by_bit() {
    for (width, height, cuts) in [
        (301, 259, &[0, 128][..]),
        (301, 258, &[0, 16, 144, 240]),
        // Strips of the fewest rows.
        (8_200, 300, &[0, 160]),
        (24_600, 131, &[0, 64]),
        (40, 35, &[0, 32]),
    ] {
        let source = night(width, height);
        let job = job(width, height);
        let whole = render(source.clone(), &job);
        for most_kept in [0, usize::MAX] {
            let parts = shared(&source, &job, cuts, most_kept);
            assert!(parts == whole, "{width} x {height}, {cuts:?}, {most_kept}");
        }
    }
}

/// Diffusion before and halation after it, so that rows are kept, put in place of others, and needed by more
/// than one strip below.
#[test]
fn a_picture_moved_by_more_rows_than_a_strip_has_is_whole_bit_by_bit() {
    let (width, height) = (8_200, 300);
    let source = night(width, height);
    let mut job = job(width, height);
    let weave = &mut job.look.lens.weave;
    (weave.upright, weave.breathing) = (40.0, 30.0);
    let plan = job.plan();
    let margin = Links::new((width, height), &plan, &job.window)
        .links
        .iter()
        .map(Link::margin)
        .max();
    assert!(margin > Some(64));
    let whole = render(source.clone(), &job);
    assert!(shared(&source, &job, &[0, 160], usize::MAX) == whole);
    assert!(shared(&source, &job, &[0, 160], 0) == whole);
}

#[test]
fn what_is_no_part_of_the_picture_is_refused() {
    let (source, job) = (night(64, 320), job(64, 320));
    let mut partition = Partition::new((64, 320), &job, 0..32);
    while !partition.gathers() {
        let mut results = partition.begin();
        for strip in 0..partition.strips() {
            results.take(partition.work(strip, &source, &mut CarriedRows::default()));
        }
        partition.next_round(results);
    }
    let one = HaloPlane { layer: 0, level: 1 };
    let two = HaloPlane { layer: 0, level: 2 };
    let mut results = partition.begin();
    // Half of 64 columns and six beyond the edge; half of 32 rows and those around them that five more
    // steps bring along, doubling takes, and filters reach.
    let halo_ranges = partition.halo_ranges(&mut results, one);
    assert_eq!((halo_ranges.own, halo_ranges.columns), (0..16, 38));
    assert_eq!(halo_ranges.wanted, 0..16 + 5 * 16 / 2 + 1 + 16);
    for (first, values) in [(0, 37), (71, 3 * 38), (usize::MAX, 38)] {
        let refused = results
            .write_halo(one, first, &vec![0.0; values])
            .unwrap_err();
        assert!(refused.message().contains("not of this picture"));
    }
    for rows in [14..17, 16..17, 3..3] {
        assert!(
            results.read_halo(one, rows).is_err(),
            "it has the rows 0..16"
        );
    }
    assert!(
        results.read_halo(two, 0..1).is_err(),
        "level 2 is not begun"
    );
    assert!(results.write_halo(two, 0, &[0.0; 22]).is_err());
    let halo_ranges = partition.halo_ranges(&mut results, two);
    assert_eq!(
        (halo_ranges.own, halo_ranges.wanted, halo_ranges.columns),
        (0..8, 0..86, 22)
    );
    partition.close_halo(&mut results, 0);
    assert!(results.read_halo(one, 0..1).is_err(), "the layer is closed");
}

/// All strips on top of each other.
fn joined(source: &Planes, job: &Job) -> Planes {
    let mut out = Planes::filled(source.width, 0, 0.0);
    let take = |first: usize, strip: Planes| {
        assert_eq!(first, out.height);
        out.height += strip.height;
        for (whole, part) in out.planes.iter_mut().zip(&strip.planes) {
            whole.extend(part);
        }
        Ok(())
    };
    render_strips(source, job, &OneThread, |_| Ok(()), take).unwrap();
    out
}

#[test]
fn strips_are_the_whole_picture_bit_by_bit() {
    // Wide pictures make strips of the fewest rows: 64.
    for (width, height) in [(24_600, 131), (24_601, 64), (30, 90)] {
        let source = night(width, height);
        let mut job = job(width, height);
        for method in HalationMethod::ALL {
            job.look.negative.halation.method = *method;
            assert!(
                joined(&source, &job) == render(source.clone(), &job),
                "{method:?}"
            );
            assert!(joined_anew(&source, &job) == joined(&source, &job));
            if width < 24_600 {
                continue;
            }
            break;
        }
    }
}

#[test]
fn a_ring_at_the_pictures_own_size_is_the_same_in_shares() {
    // Pixels of 6 um: the ring's radius is 38 of them, more than a strip usually brings along.
    let source = night(70, 259);
    let mut job = job(70, 259);
    job.window = Window::whole(4096, 2304);
    job.look.negative.halation.method = HalationMethod::BaseRing;
    job.look.negative.halation.backing = Backing::None;
    let whole = render(source.clone(), &job);
    for most_kept in [0, usize::MAX] {
        assert!(shared(&source, &job, &[0, 16, 144, 240], most_kept) == whole);
    }
    assert!(joined(&source, &job) == whole);
    job.look.negative.halation.on = false;
    assert!(render(source, &job) != whole);
}

#[test]
fn every_stage_comes_in_strips() {
    let source = night(50, 70);
    let mut job = job(50, 70);
    for stage in StageId::ALL {
        job.stage = *stage;
        assert!(
            joined(&source, &job) == render(source.clone(), &job),
            "{stage:?}"
        );
    }
    job.look = job.look.without_texture();
    assert!(joined(&source, &job) == render(source.clone(), &job));
    let mut plain = Vec::new();
    let take = |_, strip: Planes| {
        plain.push(strip);
        Ok(())
    };
    unstyled_strips(&source, &job, &OneThread, |_| Ok(()), take).unwrap();
    assert!(plain[0] == unstyled(source, &job));
}

#[test]
fn watching_can_stop_it_and_hears_of_the_end() {
    let (source, job) = (night(30, 40), job(30, 40));
    let stopped = render_strips(
        &source,
        &job,
        &OneThread,
        |_| Err(Error::new("stopped")),
        |_, _| panic!("a strip after the stop"),
    );
    assert_eq!(stopped.unwrap_err().message(), "stopped");
    let mut partitions = Vec::new();
    let watch = |share| {
        partitions.push(share);
        Ok(())
    };
    render_strips(&source, &job, &OneThread, watch, |_, _| Ok(())).unwrap();
    assert!(
        partitions.is_sorted() && partitions.last() == Some(&1.0),
        "{partitions:?}"
    );
}
