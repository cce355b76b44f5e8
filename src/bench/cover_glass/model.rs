//! The balances of a bare and a covered plate. In: settings, temperatures in °C. Out: rates of change and limits in SI.
//! The limits must come from the same functions as the rates.

use super::super::{
    BenchError, Lamp, Plate, Settings,
    cover::{Cover, transmittance_absorptance},
    gap::Gap,
    integrate::{Balances, integrate},
    radiation, root,
};

/// A probe that follows faster than this (s) counts as following at once.
const NO_LAG: f64 = 0.1;

/// Beyond this wavelength (m) glass passes no light. Source: common practice, no source.
const GLASS_ENDS: f64 = 2.7e-6;

/// Heat capacity of glass by volume, J/(m³ K): 2500 kg/m³, 750 J/(kg K).
const GLASS_CAPACITY: f64 = 2500.0 * 750.0;

/// No plate on the bench comes near this excess over the room, K.
const BEYOND: f64 = 1e4;

/// The plates in SI.
#[derive(Debug, Clone)]
pub(super) struct Model {
    lamp: Lamp,
    /// Irradiance of the warm lamp, W/m².
    pub(super) light: f64,
    bare: Plate,
    /// The pane as a plate whose gain is what it absorbs.
    glass: Plate,
    /// Share of the light that the covered plate absorbs.
    under_glass: f64,
    gap: Gap,
    capacity: f64,
    glass_capacity: f64,
    contact: f64,
    lag: f64,
    pub(super) room: f64,
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        let lamp = Lamp::warming(settings);
        let thickness = of("glass_thickness") / 1000.0;
        let cover =
            Cover { refraction: of("glass_refraction"), extinction: of("glass_extinction"), thickness, panes: 1 };
        let passable = radiation::share_below(GLASS_ENDS * of("filament_temperature"));
        let kept =
            transmittance_absorptance(cover.transmittance(0.0), of("absorptance"), cover.reflectance_from_below());
        let bare = Plate {
            area: of("plate_area"),
            absorptance: of("absorptance"),
            emittance: of("emittance"),
            faces: 1.0,
            convection: of("convection"),
            convection_exponent: of("convection_exponent"),
            back_loss: of("back_loss"),
        };
        let absorbed = 1.0 - passable + passable * cover.absorbed(0.0);
        Self {
            lamp,
            light: lamp.irradiance(of("lamp_distance")),
            bare,
            glass: Plate { absorptance: absorbed, emittance: of("glass_emittance"), back_loss: 0.0, ..bare },
            under_glass: passable * kept,
            gap: Gap {
                width: of("gap") / 1000.0,
                tilt: of("tilt").to_radians(),
                emittances: [of("emittance"), of("glass_emittance")],
            },
            capacity: of("plate_capacity"),
            glass_capacity: GLASS_CAPACITY * thickness * of("plate_area"),
            contact: of("probe_contact"),
            lag: of("probe_lag"),
            room: of("room_temperature"),
        }
    }

    /// Irradiance at a time in s, W/m².
    pub(super) fn irradiance(&self, time: f64) -> f64 {
        self.light * self.lamp.brightness(time)
    }

    /// Temperatures of bare plate, covered plate and glass at which nothing changes in the light of the warm lamp, °C.
    ///
    /// The glass beside a plate is where its balance vanishes; with it, what is left on the plate falls as it gets warmer.
    pub(super) fn limits(&self) -> [f64; 3] {
        let (room, light) = (self.room, self.light);
        let beside = |plate: f64| root::falling(room, room + BEYOND, |glass| self.glass_rest(light, plate, glass));
        let covered = root::falling(room, room + BEYOND, |plate| self.covered_rest(light, plate, beside(plate)));
        [self.bare.limit(light, room), covered, beside(covered)]
    }

    /// Heat stored since the start, J.
    pub(super) fn stored(&self, &[bare, covered, glass, ..]: &[f64; 7]) -> f64 {
        self.capacity * (bare + covered - 2.0 * self.room) + self.glass_capacity * (glass - self.room)
    }

    /// What a probe tends to on a plate, °C.
    fn touched(&self, plate: f64) -> f64 {
        self.room + self.contact * (plate - self.room)
    }

    /// What a probe takes on, given its state of the balance, °C.
    pub(super) fn shown(&self, plate: f64, probe: f64) -> f64 {
        if self.lag < NO_LAG { self.touched(plate) } else { probe }
    }

    /// The states of [`Balances`] at each of the ascending times (s).
    pub(super) fn solve(&self, times: &[f64], tolerance: f64) -> Result<Vec<[f64; 7]>, BenchError> {
        let room = self.room;
        integrate(self, [room, room, room, room, room, 0.0, 0.0], times, tolerance)
    }

    fn passage(&self, plate: f64, glass: f64) -> f64 {
        self.bare.area * self.gap.passage(plate, glass)
    }

    fn covered_gain(&self, light: f64) -> f64 {
        self.bare.area * self.under_glass * light
    }

    fn covered_rest(&self, light: f64, plate: f64, glass: f64) -> f64 {
        self.covered_gain(light) - self.passage(plate, glass) - self.bare.through_back(plate - self.room)
    }

    fn glass_rest(&self, light: f64, plate: f64, glass: f64) -> f64 {
        self.glass.gain(light) + self.passage(plate, glass) - self.glass.loss(glass, self.room)
    }
}

impl Balances<7> for Model {
    /// States: bare plate, covered plate, glass, probes on both plates, energy supplied, energy lost.
    fn rates(&self, time: f64, &[bare, covered, glass, bare_probe, covered_probe, ..]: &[f64; 7]) -> [f64; 7] {
        let light = self.irradiance(time);
        let bare_loss = self.bare.loss(bare, self.room);
        let follow = |plate, probe| if self.lag < NO_LAG { 0.0 } else { (self.touched(plate) - probe) / self.lag };
        let through_back = self.bare.through_back(covered - self.room);
        [
            (self.bare.gain(light) - bare_loss) / self.capacity,
            self.covered_rest(light, covered, glass) / self.capacity,
            self.glass_rest(light, covered, glass) / self.glass_capacity,
            follow(bare, bare_probe),
            follow(covered, covered_probe),
            self.bare.gain(light) + self.covered_gain(light) + self.glass.gain(light),
            bare_loss + through_back + self.glass.loss(glass, self.room),
        ]
    }
}
