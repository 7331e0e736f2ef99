//! Lookwright's core for Python: bytes and texts in, bytes and texts out. Arrays, shapes and what people
//! call are in `python/lookwright`, which is the only caller.
//!
//! The work is done without the interpreter's lock, so that threads of Python render side by side.

#[pyo3::pymodule]
mod _core {
    use lookwright_colour::encoding::{EncodingId, Range, ScreenId};
    use lookwright_colour::{Mat3, Rgb};
    use lookwright_film::look::{Delivery, Frame, Look, Options, StageId, StockChoice};
    use lookwright_film::path::LightPath;
    use lookwright_film::spatial::Window;
    use lookwright_handover::{Asked, Baked, Recipe, Split};
    use lookwright_picture::{
        Decoded, Limits, OutFormat, Samples, Sizes, Stamp, Version, develop_in_sequence,
        seed_of_shot, with_seeds,
    };
    use lookwright_render::Job;
    use pyo3::buffer::PyBuffer;
    use pyo3::exceptions::PyValueError;
    use pyo3::prelude::*;
    use pyo3::types::PyBytes;

    /// A sentence of the core as Python has it.
    fn bad(error: impl ToString) -> PyErr {
        PyValueError::new_err(error.to_string())
    }

    fn look(text: &str) -> PyResult<Look> {
        Look::read(text).map_err(bad)
    }

    /// A look of any version as canonical JSON of this one, and what had to be changed.
    #[pyfunction]
    fn read_look(text: &str) -> PyResult<(String, Vec<String>)> {
        let (look, notes) = Look::read_with_notes(text).map_err(bad)?;
        Ok((look.canonical(), notes))
    }

    /// A look with line breaks and indents.
    #[pyfunction]
    fn pretty(text: &str) -> PyResult<String> {
        Ok(look(text)?.pretty())
    }

    /// The fingerprint of a look.
    #[pyfunction]
    fn fingerprint(text: &str) -> PyResult<String> {
        Ok(look(text)?.fingerprint())
    }

    /// A starting look on a stock.
    #[pyfunction]
    fn starting_look(stock: &str) -> PyResult<String> {
        let stock = StockChoice::parse(stock).map_err(bad)?;
        Ok(Look::starting(stock).canonical())
    }

    /// Every stage, step and control, as JSON.
    #[pyfunction]
    fn catalogue() -> String {
        lookwright_film::look::catalogue().to_string()
    }

    /// What a picture is rendered with: a look, a frame's settings and a delivery as JSON.
    #[pyclass]
    struct Settings {
        look: Look,
        frame: Frame,
        delivery: Delivery,
    }

    #[pymethods]
    impl Settings {
        #[new]
        fn new(text: &str, frame: &str, delivery: &str, shot: Option<&str>) -> PyResult<Self> {
            let look = look(text)?;
            Ok(Self {
                look: match shot {
                    Some(shot) => with_seeds(&look, |own| seed_of_shot(own, shot)),
                    None => look,
                },
                frame: Frame::read(frame).map_err(bad)?,
                delivery: Delivery::read(delivery).map_err(bad)?,
            })
        }

        /// One picture of interleaved samples of 8, 16 or 32 bits, as raw samples of a format into a buffer
        /// of their length.
        #[expect(clippy::too_many_arguments, reason = "one call from Python, by place")]
        fn render(
            &self,
            py: Python<'_>,
            pixels: PyBuffer<u8>,
            into: PyBuffer<u8>,
            size: (u32, u32),
            bits: u8,
            format: &str,
            stage: &str,
            texture: bool,
            number: u32,
            seed: Option<u32>,
        ) -> PyResult<()> {
            let bytes = pixels.to_vec(py)?;
            let stage = StageId::parse(stage).map_err(bad)?;
            let format = OutFormat::from_id(format, 100).map_err(bad)?;
            let rendered = py.detach(|| {
                let mut look = self.look.clone();
                if !texture {
                    look = look.without_texture();
                }
                if let Some(seed) = seed {
                    look = with_seeds(&look, |_| seed.into());
                }
                let picture = Decoded::of_samples(size, Samples::from_bytes(bits, bytes)?)?;
                let job = Job {
                    look,
                    frame: self.frame.clone(),
                    delivery: self.delivery.clone(),
                    stage,
                    window: Window::whole(size.0 as usize, size.1 as usize),
                    frame_number: number,
                };
                let sizes = Sizes {
                    size,
                    sample_bytes: picture.samples.byte_count(),
                    format,
                };
                sizes.strips(&job, Version::Styled, &Limits::default(), 1)?;
                let to = (format, &Stamp::default());
                develop_in_sequence(&picture, &job, Version::Styled, to)
            });
            into.copy_from_slice(py, &rendered.map_err(bad)?)
        }

        /// The table part on a lattice: floats of `grid` x `grid` x `grid` x 3, red the fastest.
        fn table<'py>(&self, py: Python<'py>, grid: usize) -> PyResult<Bound<'py, PyBytes>> {
            let recipe = Recipe {
                look: self.look.clone(),
                encoding: self.frame.source.encoding,
                range: self.frame.source.range,
                delivery: self.delivery.clone(),
                split: Split::default(),
                scene: None,
                grid,
            };
            let baked = py.detach(|| Baked::new(recipe)).map_err(bad)?;
            let nodes = baked.grid().nodes().iter().flatten();
            let bytes: Vec<u8> = nodes.flat_map(|value| value.to_le_bytes()).collect();
            Ok(PyBytes::new(py, &bytes))
        }

        /// Three codes at every stage: its name, its unit, its three numbers.
        fn trace(&self, code: [f32; 3]) -> Vec<(&'static str, &'static str, [f32; 3])> {
            let path = LightPath::new(&self.look, &self.frame, &self.delivery);
            let points = lookwright_render::judge::trace(&path, code);
            let told = points
                .iter()
                .map(|point| (point.stage.id(), point.unit, point.values));
            told.collect()
        }
    }

    /// Where a table's file will hurt, as JSON.
    #[pyfunction]
    fn check(
        py: Python<'_>,
        bytes: &[u8],
        name: &str,
        encoding: Option<&str>,
        screen: Option<&str>,
        range: Option<&str>,
    ) -> PyResult<String> {
        let source = encoding.map(EncodingId::parse).transpose().map_err(bad)?;
        let asked = Asked {
            source: source.map(|it| (it, Range::Full)),
            screen: screen.map(ScreenId::parse).transpose().map_err(bad)?,
            range: range.map(Range::parse).transpose().map_err(bad)?,
            ..Asked::default()
        };
        let checked = py.detach(|| lookwright_handover::check(bytes, name, asked));
        let checked = checked.map_err(bad)?;
        Ok(checked.to_json().to_string())
    }

    /// The names of all encodings.
    #[pyfunction]
    fn encodings() -> Vec<&'static str> {
        let all = EncodingId::ALL.iter();
        all.map(|encoding| encoding.info().id).collect()
    }

    /// Codes of an encoding, interleaved floats, to linear light in AP1 in a buffer of their length.
    #[pyfunction]
    fn decode(
        py: Python<'_>,
        codes: PyBuffer<u8>,
        light: PyBuffer<u8>,
        encoding: &str,
    ) -> PyResult<()> {
        let encoding = EncodingId::parse(encoding).map_err(bad)?;
        let (curve, matrix) = encoding.to_scene();
        let matrix = matrix.for_pixels();
        let unmixing = encoding.unmixing().unwrap_or(Mat3::IDENTITY).for_pixels();
        let bytes = codes.to_vec(py)?;
        let decoded = py.detach(|| {
            let codes = bytes.as_chunks::<4>().0.iter();
            let codes: Vec<f32> = codes.map(|code| f32::from_le_bytes(*code)).collect();
            let pixels = codes.as_chunks::<3>().0.iter();
            let light = pixels.flat_map(|code| {
                let code = unmixing.apply(Rgb::from_array(*code));
                matrix.apply(code.map(|code| curve.decode(code))).to_array()
            });
            light.flat_map(f32::to_le_bytes).collect::<Vec<u8>>()
        });
        light.copy_from_slice(py, &decoded)
    }

    /// Seeds are whole numbers below this.
    #[pymodule_export]
    const SEEDS: u32 = lookwright_picture::SEEDS;
}
