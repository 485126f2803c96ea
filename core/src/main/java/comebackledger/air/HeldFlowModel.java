package comebackledger.air;

import comebackledger.measure.Measured;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A = m/f(p1, pa, T) of the test, less the same of the set-up alone. */
final class HeldFlowModel implements ChargeAirJudge.AreaModel {
    private static final int TEST = 0;
    private static final int AMBIENT = 1;
    private static final int KELVIN = 2;
    private static final int FLOW = 3;

    private final AirTest.HeldFlow held;
    private final List<Measured> inputs = new ArrayList<>();
    private final int meter;
    private final int backgroundFlow;
    private final int backgroundMeter;
    private final int backgroundTest;

    HeldFlowModel(AirTest.HeldFlow held) {
        this.held = held;
        inputs.add(held.testPa());
        inputs.add(held.ambientPa());
        inputs.add(held.kelvin());
        inputs.add(held.flow().value());
        meter = add(held.flow().meterPa(), TEST);
        backgroundTest = add(held.background().flatMap(AirTest.HeldBackground::testPa), TEST);
        backgroundFlow = add(held.background().map(background -> background.flow().value()), FLOW);
        backgroundMeter = add(held.background().flatMap(background -> background.flow().meterPa()), backgroundTest);
    }

    /** The index of an input, or of the one it shares where it was not measured by itself. */
    private int add(Optional<Measured> input, int shared) {
        input.ifPresent(inputs::add);
        return input.isPresent() ? inputs.size() - 1 : shared;
    }

    @Override
    public Measured[] inputs() {
        return inputs.toArray(Measured[]::new);
    }

    @Override
    public double ambientPa(double[] x) {
        return x[AMBIENT];
    }

    @Override
    public double areaM2(double[] x) {
        double whole = massKgPerS(held.flow(), x[FLOW], x[AMBIENT] + x[meter], x[KELVIN]) / flux(x, x[TEST]);
        double setUp = held.background()
                .map(background -> massKgPerS(background.flow(), x[backgroundFlow], x[AMBIENT] + x[backgroundMeter], x[KELVIN])
                        / flux(x, x[backgroundTest]))
                .orElse(0.0);
        return whole - setUp;
    }

    @Override
    public double massFlowKgPerS(double[] x) {
        return areaM2(x) * flux(x, x[TEST]);
    }

    private static double flux(double[] x, double gaugePa) {
        // One standard uncertainty down may reach ambient; a millionth of it above is where the test still says something.
        return OrificeFlow.flux(x[AMBIENT] + Math.max(gaugePa, 1e-6 * x[AMBIENT]), x[AMBIENT], x[KELVIN]);
    }

    private static double massKgPerS(AirTest.Flow flow, double value, double meterPa, double kelvin) {
        return switch (flow.reference()) {
            case MASS -> value;
            case FREE_AIR -> value * FreeAir.FREE_AIR_KG_PER_M3;
            case ANR -> value * FreeAir.ANR_KG_PER_M3;
            case FLOAT_METER_UNDER_PRESSURE -> value * FreeAir.FREE_AIR_KG_PER_M3 * FreeAir.floatMeterFactor(meterPa, kelvin);
        };
    }
}
