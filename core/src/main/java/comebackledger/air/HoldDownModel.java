package comebackledger.air;

import comebackledger.measure.Measured;
import java.util.ArrayList;
import java.util.List;

/** The decay integral of the test, less that of the set-up alone in the same volume. */
final class HoldDownModel implements ChargeAirJudge.AreaModel {
    private static final int VOLUME = 0;
    private static final int AMBIENT = 1;
    private static final int KELVIN = 2;
    private static final int HOLD = 3;
    private static final double SMALLEST_PA = 1;
    private static final double SMALLEST_S = 1e-3;

    private final AirTest.HoldDown test;
    private final List<Measured> inputs = new ArrayList<>();
    private final int endKelvin;
    private final int background;

    HoldDownModel(AirTest.HoldDown test) {
        this.test = test;
        inputs.add(test.volumeM3());
        inputs.add(test.ambientPa());
        inputs.add(test.kelvin());
        add(test.hold());
        endKelvin = test.endKelvin().isPresent() ? inputs.size() : KELVIN;
        test.endKelvin().ifPresent(inputs::add);
        background = inputs.size();
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
        return whole(x) - (test.background().isPresent() ? area(hold(x, background, x[KELVIN]), x) : 0);
    }

    /** Of the leak and the set-up. */
    private double whole(double[] x) {
        return area(hold(x, HOLD, x[endKelvin]), x);
    }

    private static Decay.Hold hold(double[] x, int at, double endKelvin) {
        // One standard uncertainty down may reach ambient or no time at all; just above is where the test still says something.
        double start = x[AMBIENT] + Math.max(x[at], SMALLEST_PA);
        double end = x[AMBIENT] + Math.max(x[at + 1], SMALLEST_PA);
        return new Decay.Hold(start, end, Math.max(x[at + 2], SMALLEST_S), x[KELVIN], endKelvin);
    }

    private static double area(Decay.Hold hold, double[] x) {
        return Decay.effectiveAreaM2(hold, x[VOLUME], x[AMBIENT]);
    }

    /** The average over the test, of the leak alone: the mass that left, in proportion of the areas. */
    @Override
    public double massFlowKgPerS(double[] x) {
        Decay.Hold hold = hold(x, HOLD, x[endKelvin]);
        double all = hold.lostPerVolume() * x[VOLUME] / hold.seconds();
        double whole = whole(x);
        return test.background().isEmpty() || whole == 0 ? all : all * areaM2(x) / whole;
    }
}
