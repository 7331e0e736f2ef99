//! What a picture is said to cost against what its rendering holds.

use core::ops::Range;

use lookwright_film::look::{Delivery, Frame, HalationMethod, Look, StageId, StartingStock};
use lookwright_film::spatial::{Planes, Window};
use lookwright_render::{Job, OneThread, PictureRows, render_strips};
use peak_alloc::PeakAlloc;

#[global_allocator]
static PEAK: PeakAlloc = PeakAlloc;

/// A grey picture that takes no memory.
struct Grey(usize, usize);

impl PictureRows for Grey {
    fn size(&self) -> (usize, usize) {
        (self.0, self.1)
    }
    fn rows(&self, rows: Range<usize>) -> Planes {
        Planes::filled(self.0, rows.len(), 0.4)
    }
}

fn held(job: &Job, size: (usize, usize)) -> u64 {
    let before = PEAK.current_usage();
    PEAK.reset_peak_usage();
    let (watch, take) = (|_| Ok(()), |_, _| Ok(()));
    render_strips(&Grey(size.0, size.1), job, &OneThread, watch, take).expect("nothing stops it");
    (PEAK.peak_usage() - before) as u64
}

#[test]
fn rendering_stays_below_its_budget_and_not_far_below() {
    let mut wide = Look::starting(StartingStock::Overcast);
    wide.for_each_step(|step| step.set_on(true));
    wide.negative.halation.method = HalationMethod::Veil;
    wide.negative.halation.reach = 1000.0;
    let plain = wide.without_texture();
    // Strips one above the other, one strip, one row, one column.
    for size in [(12_000, 300), (600, 500), (300_000, 1), (1, 20_000)] {
        for look in [&wide, &plain] {
            let job = Job {
                look: look.clone(),
                frame: Frame::default(),
                delivery: Delivery::default(),
                stage: StageId::Screen,
                window: Window::whole(size.0, size.1),
                frame_number: 0,
            };
            let (said, held) = (job.budget(size, 1).bytes, held(&job, size));
            assert!(held <= said, "{size:?}: {held} of {said}");
            assert!(4 * held + (1 << 20) > said, "{size:?}: {held} of {said}");
        }
    }
}
