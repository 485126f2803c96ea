package comebackledger.air;

import comebackledger.measure.Measured;
import comebackledger.measure.UnitOfMeasure;
import java.util.Optional;
import java.util.SplittableRandom;

/** Leaks of known size, tested with instruments that err by the standard uncertainties assumed where a visit gives none. */
final class LeakSimulator {
    /** Share of the reading added to a constant, in SI: common practice, no source. */
    private static final double PRESSURE_SHARE = 0.01;
    private static final double PRESSURE_PA = 500;
    private static final double FLOW_SHARE = 0.025;
    private static final double FLOW_M3_PER_S = UnitOfMeasure.LITRE_PER_MINUTE.toSi(0.2);
    private static final double KELVIN = 2;
    private static final double AMBIENT_PA = 500;
    private static final double VOLUME_SHARE = 0.05;
    private static final double SECONDS = 0.3;
    static final double COEFFICIENT = 0.65;

    private final SplittableRandom random;

    LeakSimulator(long seed) {
        random = new SplittableRandom(seed);
    }

    SplittableRandom random() {
        return random;
    }

    /** A reading and the uncertainty that the shop, which has only the reading, would state. */
    private Measured read(double truth, double share, double constant) {
        double reading = truth + (share * Math.abs(truth) + constant) * random.nextGaussian();
        return new Measured(reading, share * Math.abs(reading) + constant);
    }

    private Measured pressure(double gaugePa) {
        return read(gaugePa, PRESSURE_SHARE, PRESSURE_PA);
    }

    private Measured kelvin(double truth) {
        return read(truth, 0, KELVIN);
    }

    /** The surroundings of one test. */
    record Air(double ambientPa, double kelvin) {
        static final Air SEA_LEVEL = new Air(101_325, 293.15);
        static final Air MOUNTAIN = new Air(84_300, 278.15);

        double flux(double gaugePa) {
            return OrificeFlow.flux(ambientPa + gaugePa, ambientPa, kelvin);
        }
    }

    /** @param meter what the flow meter refers to; a float meter sits at the test pressure */
    record Held(double gaugePa, AirTest.Reference meter, double setUpM2, Optional<Double> setUpGaugePa, Air air) {
        Held(double gaugePa) {
            this(gaugePa, AirTest.Reference.FREE_AIR, 0, Optional.empty(), Air.SEA_LEVEL);
        }
    }

    AirTest test(Held how, double areaM2) {
        Air air = how.air();
        Optional<AirTest.HeldBackground> background = how.setUpM2() == 0
                ? Optional.empty()
                : Optional.of(new AirTest.HeldBackground(flow(how.setUpM2(), how, how.setUpGaugePa().orElse(how.gaugePa())),
                        how.setUpGaugePa().map(this::pressure)));
        return new AirTest.HeldFlow(pressure(how.gaugePa()), flow(areaM2 + how.setUpM2(), how, how.gaugePa()), background,
                read(air.ambientPa(), 0, AMBIENT_PA), kelvin(air.kelvin()), COEFFICIENT);
    }

    private AirTest.Flow flow(double areaM2, Held how, double gaugePa) {
        Air air = how.air();
        double mass = areaM2 * air.flux(gaugePa);
        double shown = switch (how.meter()) {
            case MASS -> mass;
            case FREE_AIR -> mass / FreeAir.FREE_AIR_KG_PER_M3;
            case ANR -> mass / FreeAir.ANR_KG_PER_M3;
            case FLOAT_METER_UNDER_PRESSURE -> mass / FreeAir.FREE_AIR_KG_PER_M3
                    / FreeAir.floatMeterFactor(air.ambientPa() + gaugePa, air.kelvin());
        };
        double constant = how.meter() == AirTest.Reference.MASS ? FLOW_M3_PER_S * FreeAir.FREE_AIR_KG_PER_M3 : FLOW_M3_PER_S;
        return new AirTest.Flow(read(shown, FLOW_SHARE, constant), how.meter(), Optional.empty());
    }

    /** @param drift of the air in the volume over the test, K; the end is read too where it is not 0 */
    record Hold(double volumeM3, double startPa, double seconds, double drift, double setUpM2, double setUpSeconds, Air air) {
        Hold(double volumeM3, double startPa, double seconds) {
            this(volumeM3, startPa, seconds, 0, 0, 0, Air.SEA_LEVEL);
        }

        /** The time that a shop would take for a fall like that of 1 mm2. */
        Hold timedFor(double areaM2) {
            return new Hold(volumeM3, startPa, seconds * 1e-6 / areaM2, drift, setUpM2, setUpSeconds, air);
        }

        /** Gauge, after some time; by small steps of the isothermal or drifting decay, not by the integral that the judge uses. */
        double endPa(double areaM2, double seconds, double drift) {
            int steps = 400;
            double kelvin = air.kelvin();
            double mass = (air.ambientPa() + startPa) * volumeM3 / (OrificeFlow.AIR_J_PER_KG_K * kelvin);
            for (int i = 0; i < steps; i++) {
                double half = air.kelvin() + drift * (i + 0.5) / steps;
                double lost = areaM2 * seconds / steps * flux(mass, kelvin) / 2;
                mass -= areaM2 * seconds / steps * flux(mass - lost, half);
                kelvin = air.kelvin() + drift * (i + 1.0) / steps;
            }
            return mass * OrificeFlow.AIR_J_PER_KG_K * kelvin / volumeM3 - air.ambientPa();
        }

        private double flux(double mass, double kelvin) {
            return OrificeFlow.flux(mass * OrificeFlow.AIR_J_PER_KG_K * kelvin / volumeM3, air.ambientPa(), kelvin);
        }
    }

    AirTest test(Hold how, double areaM2) {
        Air air = how.air();
        AirTest.Timed hold = new AirTest.Timed(pressure(how.startPa()), pressure(how.endPa(areaM2 + how.setUpM2(), how.seconds(), how.drift())),
                read(how.seconds(), 0, SECONDS));
        Optional<AirTest.Timed> background = how.setUpM2() == 0
                ? Optional.empty()
                : Optional.of(new AirTest.Timed(pressure(how.startPa()), pressure(how.endPa(how.setUpM2(), how.setUpSeconds(), 0)),
                        read(how.setUpSeconds(), 0, SECONDS)));
        Optional<Measured> end = how.drift() == 0 ? Optional.empty() : Optional.of(kelvin(air.kelvin() + how.drift()));
        return new AirTest.HoldDown(read(how.volumeM3(), VOLUME_SHARE, 0), hold, background, read(air.ambientPa(), 0, AMBIENT_PA),
                kelvin(air.kelvin()), end, COEFFICIENT);
    }

    /** Log-uniform. */
    double area(double lowMm2, double highMm2) {
        return 1e-6 * lowMm2 * Math.pow(highMm2 / lowMm2, random.nextDouble());
    }
}
