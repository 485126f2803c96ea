package comebackledger.air;

import comebackledger.measure.Measured;
import java.util.ArrayList;
import java.util.List;

/** The decay integral of the test, less that of the set-up alone in the same volume. */
final class HoldDownModel implements ChargeAirJudge.AreaModel {
    private static final int VOLUME = 0;
    private static final int AMBIENT = 1;
    private static final int KELVIN = 2;
    private static final int CHANGE = 3;
    private static final int HOLD = 4;
    private static final int BACKGROUND = 7;
    private static final double SMALLEST_PA = 1;

    private final AirTest.HoldDown test;
    private final List<Measured> inputs = new ArrayList<>();

    HoldDownModel(AirTest.HoldDown test) {
        this.test = test;
        inputs.add(test.volumeM3());
        inputs.add(test.ambientPa());
        inputs.add(test.kelvin());
        // A thermometer's error is common to both ends; what is uncertain by itself is the change.
        inputs.add(new Measured(test.endKelvin().value() - test.kelvin().value(), test.endKelvin().standardUncertainty()));
        add(test.hold());
        test.background().ifPresent(this::add);
    }

    private void add(AirTest.Timed timed) {
        inputs.add(timed.startPa());
        inputs.add(timed.endPa());
        inputs.add(timed.seconds());
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
        return area(x, HOLD, x[CHANGE]) - (test.background().isPresent() ? area(x, BACKGROUND, 0) : 0);
    }

    private static Decay.Hold hold(double[] x, int at, double change) {
        double start = x[AMBIENT] + Math.max(x[at], SMALLEST_PA);
        double end = x[AMBIENT] + Math.max(x[at + 1], SMALLEST_PA);
        return new Decay.Hold(start, end, Math.max(x[at + 2], 1e-3), x[KELVIN], x[KELVIN] + change);
    }

    private static double area(double[] x, int at, double change) {
        return Decay.effectiveAreaM2(hold(x, at, change), x[VOLUME], x[AMBIENT]);
    }

    /** The average over the test, of the leak alone: the mass that left, in proportion of the areas. */
    @Override
    public double massFlowKgPerS(double[] x) {
        Decay.Hold hold = hold(x, HOLD, x[CHANGE]);
        double all = hold.lostPerVolume() * x[VOLUME] / hold.seconds();
        double whole = area(x, HOLD, x[CHANGE]);
        return test.background().isEmpty() || whole == 0 ? all : all * areaM2(x) / whole;
    }
}
