//! The same pieces of work for a closer look, by Criterion, which tells whether a change shows:
//! `cargo bench -p lookwright-bench -- grain`.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use lookwright_bench::{names, work};

/// A frame that the largest cache holds.
const SIZE: (usize, usize) = (640, 360);

fn pieces(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("pieces");
    group.throughput(Throughput::Elements((SIZE.0 * SIZE.1) as u64));
    for name in names() {
        let Some(mut piece) = work(&name, SIZE.0, SIZE.1) else {
            continue;
        };
        group.bench_function(&name, |bencher| {
            bencher.iter(|| {
                piece.reset();
                piece.run();
            });
        });
    }
    group.finish();
}

criterion_group!(benches, pieces);
criterion_main!(benches);
