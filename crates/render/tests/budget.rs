//! What a picture is said to cost against what its rendering holds.

use core::ops::Range;
use core::sync::atomic::{AtomicUsize, Ordering};

use lookwright_film::look::{Delivery, Frame, HalationMethod, Look, StageId, StartingStock};
use lookwright_film::spatial::{Planes, Window};
use lookwright_render::{Job, OneThread, PictureRows, render_strips, strip_pixels};
use peak_alloc::PeakAlloc;

#[global_allocator]
static PEAK: PeakAlloc = PeakAlloc;

/// A grey picture that takes no memory, and counts the pixels that it is asked for.
struct Grey {
    size: (usize, usize),
    asked: AtomicUsize,
}

impl PictureRows for Grey {
    fn size(&self) -> (usize, usize) {
        self.size
    }
    fn rows(&self, rows: Range<usize>) -> Planes {
        let pixels = self.size.0 * rows.len();
        self.asked.fetch_add(pixels, Ordering::Relaxed);
        Planes::filled(self.size.0, rows.len(), 0.4)
    }
}

/// Most memory that rendering holds, and most pixels that are asked for between two moments at which
/// it can be stopped.
fn held(job: &Job, size: (usize, usize)) -> (u64, usize) {
    let before = PEAK.current_usage();
    PEAK.reset_peak_usage();
    let asked = AtomicUsize::new(0);
    let grey = Grey { size, asked };
    let mut most = 0;
    let watch = |_| {
        most = most.max(grey.asked.swap(0, Ordering::Relaxed));
        Ok(())
    };
    render_strips(&grey, job, &OneThread, watch, |_, _| Ok(())).expect("nothing stops it");
    ((PEAK.peak_usage() - before) as u64, most)
}

#[test]
fn rendering_stays_near_its_budget_and_can_be_stopped_after_each_strip() {
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
            let said = job.budget(size, 1).bytes;
            let (held, between) = held(&job, size);
            // A strip and the rows around it.
            let strip = strip_pixels(size.0) as usize;
            assert!(between <= 3 * strip, "{size:?}: {between} of {strip}");
            assert!(held <= said, "{size:?}: {held} of {said}");
            assert!(3 * held + (1 << 20) > said, "{size:?}: {held} of {said}");
        }
    }
}
