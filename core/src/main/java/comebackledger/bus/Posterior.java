package comebackledger.bus;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.numbers.gamma.ErfDifference;

/**
 * Bayes' rule over every suspicion: odds beforehand, times the likelihood of what was read, its free resistance integrated out.
 *
 * <p>Readings are jointly normal around their prediction: terminators, inputs, unknown wire and the meter's common error move several at once
 * (first order), counts move each by itself. A suspicion with a free resistance r draws a curve through the space of readings; over a step of
 * log r small enough to be straight, the normal density along it integrates in closed form, so a peak narrower than the step is not missed:
 * <pre>
 *   ∫₀¹ N(y; v₀ + t d, Σ) dt = N(y; nearest point) √(2π)/|b| · (Φ((1−t*)|b|) − Φ(−t*|b|))      b = L⁻¹ d,  Σ = L Lᵀ
 * </pre>
 * The meter's bound is rectangular; its variance a²/3 stands for it.
 */
final class Posterior {
    private static final int STEPS_PER_DECADE = 6;
    /** A number where nothing leads, or nothing where a number leads: a slip of the pen. */
    private static final double LOG_SLIP = Math.log(1e-9);
    private static final double LOG_TWO_PI = Math.log(2 * Math.PI);
    /** No suspicion so far off is worth its digits. */
    private static final double FAR_SD = 7;
    /** A running bus shows the average of its levels: some volts apart (common practice, no source). */
    private static final double LOAD_VOLT = 0.1;
    private static final double LOAD_SD = 0.12;
    private static final double BIAS_SD = 0.1;

    private final List<Scene> scenes;
    private final List<Observed> observed;
    private final Talk talk;
    private final List<DoneTest> done;
    private final double gainSd;
    private final double leadOhm;

    Posterior(List<Scene> scenes, List<Observed> observed, Talk talk, List<DoneTest> done, double gainSd, double leadOhm) {
        this.scenes = scenes;
        this.observed = observed;
        this.talk = talk;
        this.done = done;
        this.gainSd = gainSd;
        this.leadOhm = leadOhm;
    }

    /** One suspicion at one resistance, with the weight it has (log). */
    record Particle(Family family, double ohm, double logWeight) {}

    /** Every suspicion that is not far off, at each of its resistances. */
    List<Particle> particles(List<Family> families) {
        List<Particle> particles = new ArrayList<>();
        for (Family family : families) {
            Talk.Pictures pictures = talk.pictures(family);
            double base = Math.log(family.odds()) + Found.logOf(scenes.getFirst().off().trunk().layout, family, done);
            for (Scene scene : scenes) {
                add(particles, family, scene, pictures, base + Math.log(scene.weight()));
            }
        }
        return particles;
    }

    private void add(List<Particle> particles, Family family, Scene scene, Talk.Pictures pictures, double base) {
        if (family.range().isEmpty()) {
            double[] at = predict(family, scene, Mesh.OPEN, Tap.NONE);
            double broken = talk.broken(family, Mesh.OPEN);
            Density density = density(family, scene, at, at, Mesh.OPEN, broken);
            particles.add(new Particle(family, Mesh.OPEN, base + density.log + pictures.log(broken)));
            return;
        }
        Family.Decades range = family.range().get();
        int steps = (int) Math.max(2, Math.ceil(range.count() * STEPS_PER_DECADE));
        Curve curve = new Curve(predict(family, scene, 0, Tap.NONE), predict(family, scene, Curve.MIDDLE_OHM, Tap.NONE),
                predict(family, scene, Mesh.OPEN, Tap.NONE));
        double[] from = values(curve, range.from());
        for (int i = 0; i < steps; i++) {
            double middle = range.from() * Math.pow(10, range.count() * (i + 0.5) / steps);
            double[] to = values(curve, range.from() * Math.pow(10, range.count() * (i + 1) / steps));
            if (near(from, to)) {
                double broken = talk.broken(family, middle);
                Density density = density(family, scene, from, to, middle, broken);
                double ohm = middle * Math.pow(10, range.count() * (density.nearest - 0.5) / steps);
                particles.add(new Particle(family, ohm, base - Math.log(steps) + density.log + pictures.log(broken)));
            }
            from = to;
        }
    }

    private double[] values(Curve curve, double ohm) {
        double[] values = new double[observed.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = curve.at(i, ohm);
        }
        return values;
    }

    private boolean near(double[] from, double[] to) {
        for (int i = 0; i < from.length; i++) {
            double shown = observed.get(i).shown();
            double low = Math.min(from[i], to[i]);
            double high = Math.max(from[i], to[i]);
            if (!observed.get(i).isOpen() && !observed.get(i).probe().isVoltage() && !Double.isInfinite(low)) {
                double slack = 1 + 0.2 * Math.max(shown, Math.min(high, 2 * shown + 10)) + FAR_SD * observed.get(i).ownSd();
                if (shown - leadOhm < low - slack || shown - leadOhm > high + slack) {
                    return false;
                }
            }
        }
        return true;
    }

    /** All probes, on the nominal trunk or on one moved by a nuisance. */
    private double[] predict(Family family, Scene scene, double ohm, int nuisance) {
        double[] values = new double[observed.size()];
        Trunk.Laid off = null;
        Trunk.Laid on = null;
        for (int i = 0; i < values.length; i++) {
            Probe probe = observed.get(i).probe();
            Scene.Side side = probe.isVoltage() ? scene.on() : scene.off();
            Trunk trunk = nuisance == Tap.NONE ? side.trunk() : side.moved().get(nuisance);
            if (probe.isVoltage()) {
                on = on == null ? lay(trunk, family, ohm) : on;
                values[i] = probe.of(trunk, on);
            } else {
                off = off == null ? lay(trunk, family, ohm) : off;
                values[i] = probe.of(trunk, off);
            }
        }
        return values;
    }

    private static Trunk.Laid lay(Trunk trunk, Family family, double ohm) {
        return trunk.lay(family.faults(trunk.layout, ohm));
    }

    /** @param nearest how far along the step the readings are met best, 0 to 1 */
    private record Density(double log, double nearest) {
        Density plus(double more) {
            return new Density(log + more, nearest);
        }
    }

    private Density density(Family family, Scene scene, double[] from, double[] to, double ohm, double broken) {
        double log = 0;
        int[] counted = new int[observed.size()];
        int count = 0;
        for (int i = 0; i < from.length; i++) {
            boolean open = Predicted.isOpen(from[i]) || Predicted.isOpen(to[i]);
            if (Double.isNaN(from[i]) || Double.isNaN(to[i])) {
                log += -Math.log(30);
            } else if (observed.get(i).isOpen() != open) {
                log += LOG_SLIP;
            } else if (!open) {
                counted[count++] = i;
            }
        }
        return count == 0
                ? new Density(log, 0.5)
                : normal(new Nuisances(family, scene, ohm, broken), from, to, java.util.Arrays.copyOf(counted, count)).plus(log);
    }

    private record Nuisances(Family family, Scene scene, double ohm, double broken) {}

    private Density normal(Nuisances nuisances, double[] from, double[] to, int[] counted) {
        int n = counted.length;
        double[][] covariance = new double[n][n];
        double[] off = new double[n];
        double[] along = new double[n];
        double[] middle = new double[n];
        for (int i = 0; i < n; i++) {
            Observed one = observed.get(counted[i]);
            boolean volt = one.probe().isVoltage();
            double shift = volt ? load(one, nuisances.broken) * LOAD_VOLT : leadOhm;
            off[i] = one.shown() - from[counted[i]] - shift;
            along[i] = to[counted[i]] - from[counted[i]];
            middle[i] = (from[counted[i]] + to[counted[i]]) / 2;
            covariance[i][i] = one.ownSd() * one.ownSd();
        }
        spread(nuisances, counted, middle, covariance);
        return along(Cholesky.of(covariance), off, along);
    }

    /** Frames part the lines only on a bus that runs. */
    private static double load(Observed volt, double broken) {
        return (volt.probe().measure() == Probe.Measure.HIGH_VOLT ? 1 : -1) * (1 - broken);
    }

    private void spread(Nuisances nuisances, int[] counted, double[] middle, double[][] covariance) {
        int n = counted.length;
        double[] move = new double[n];
        double[] at = predict(nuisances.family, nuisances.scene, nuisances.ohm, Tap.NONE);
        for (int k = 0; k < nuisances.scene.off().moved().size(); k++) {
            double[] moved = predict(nuisances.family, nuisances.scene, nuisances.ohm, k);
            for (int i = 0; i < n; i++) {
                double difference = moved[counted[i]] - at[counted[i]];
                move[i] = Double.isFinite(difference) ? difference : 0;
            }
            add(covariance, move);
        }
        for (int i = 0; i < n; i++) {
            Probe probe = observed.get(counted[i]).probe();
            move[i] = probe.isVoltage() ? 0 : gainSd * middle[i];
        }
        add(covariance, move);
        for (int i = 0; i < n; i++) {
            Observed one = observed.get(counted[i]);
            move[i] = one.probe().isVoltage() ? load(one, nuisances.broken) * LOAD_SD : 0;
        }
        add(covariance, move);
        for (int i = 0; i < n; i++) {
            move[i] = observed.get(counted[i]).probe().isVoltage() ? BIAS_SD : 0;
        }
        add(covariance, move);
    }

    private static void add(double[][] covariance, double[] move) {
        for (int i = 0; i < move.length; i++) {
            for (int j = 0; j < move.length; j++) {
                covariance[i][j] += move[i] * move[j];
            }
        }
    }

    private static Density along(Cholesky root, double[] off, double[] along) {
        double[] a = root.solve(off);
        double[] b = root.solve(along);
        double aa = 0;
        double ab = 0;
        double bb = 0;
        for (int i = 0; i < a.length; i++) {
            aa += a[i] * a[i];
            ab += a[i] * b[i];
            bb += b[i] * b[i];
        }
        double head = -0.5 * a.length * LOG_TWO_PI - root.logDeterminant();
        if (bb < 1e-8) {
            return new Density(head - 0.5 * aa, 0.5);
        }
        double length = Math.sqrt(bb);
        double nearest = ab / bb;
        double low = -nearest * length / Math.sqrt(2);
        double high = (1 - nearest) * length / Math.sqrt(2);
        double share = ErfDifference.value(low, high) / 2;
        double log = head - 0.5 * Math.max(aa - ab * ab / bb, 0) + Math.log(Math.max(share, 1e-300)) + 0.5 * LOG_TWO_PI - Math.log(length);
        return new Density(log, Math.clamp(nearest, 0, 1));
    }

    /** A reading that no suspicion of the list expects: any resistance over seven decades, any voltage, anyone silent. */
    double logOther(double odds, int called, int codes) {
        double log = Math.log(Math.max(odds, 1e-12));
        for (Observed one : observed) {
            log -= one.isOpen() ? Math.log(4) : one.probe().isVoltage() ? Math.log(30) : Math.log(16 * Math.max(one.shown(), 0.1));
        }
        return log - called * Math.log(1.3) - Math.min(codes, 6) * Math.log(4);
    }
}
