package comebackledger.bus;

import comebackledger.measure.Measured;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.commons.numbers.gamma.ErfDifference;
import org.jspecify.annotations.Nullable;

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
    private static final int STEPS_PER_DECADE = 5;
    /** Share of a step over which the curve's slope is taken. */
    private static final double TANGENT = 0.02;
    /** A number where nothing leads, or nothing where a number leads: a slip of the pen. */
    private static final double LOG_SLIP = Math.log(1e-9);
    /** Or a meter left on a range: "beyond it" is written of what the next range would show (common practice, no source). */
    private static final double LOG_LOW_RANGE = Math.log(0.005);
    private static final double LOW_RANGE_OHM = 2_000;
    private static final double LOG_HIGH_RANGE = Math.log(0.05);
    private static final double HIGH_RANGE_OHM = 20_000;
    /** Or fingers on the probes, a damp plug: somewhere in the decades from 100 kohm up (common practice, no source). */
    private static final double LOG_SKIN = Math.log(0.02 / Math.log(100));
    private static final double SKIN_OHM = 100_000;
    /** Of the plug a branch is broken (common practice, no source). */
    private static final double LOG_EITHER_SIDE = Math.log(0.5);
    private static final double LOG_TWO_PI = Math.log(2 * Math.PI);
    /** No suspicion so far off is worth its digits. */
    private static final double FAR_SD = 6;
    private static final double FAR_SHARE = 0.02;
    private static final int JOINT_PARTS = 5;
    private static final int MOST_SLIPS = 2;
    /** A running bus shows the average of its levels: some volts apart (common practice, no source). */
    private static final double LOAD_VOLT = 0.1;
    private static final double LOAD_SD = 0.12;
    private static final double BIAS_SD = 0.1;

    private final List<Scene> scenes;
    private final List<Observed> observed;
    private final Talk talk;
    private final List<DoneTest> done;
    private final double gainSd;
    /** Terminators and meter, and a little for the rest; a reading to ground hangs on inputs instead. */
    private final double farShare;
    private final Measured lead;
    private final boolean voltages;
    private final @Nullable ToGround toGround;

    Posterior(List<Scene> scenes, List<Observed> observed, Talk talk, List<DoneTest> done, double terminatorSpread, double gainSd,
            Measured lead) {
        this.scenes = scenes;
        this.observed = observed;
        this.talk = talk;
        this.done = done;
        this.gainSd = gainSd;
        this.farShare = FAR_SHARE + FAR_SD * Math.hypot(terminatorSpread, gainSd);
        this.lead = lead;
        this.toGround = ToGround.of(observed);
        this.voltages = observed.stream().anyMatch(one -> one.probe().isVoltage());
    }

    /** One suspicion at one resistance in one scene, with the weight it has (log). */
    record Particle(Family family, double ohm, Scene scene, double logWeight) {
        Particle lighter(double byLog) {
            return new Particle(family, ohm, scene, logWeight + byLog);
        }
    }

    /** Every suspicion that is not far off, at each of its resistances. */
    List<Particle> particles(List<Family> families) {
        List<Particle> particles = new ArrayList<>();
        List<Map<Alike, Response>> known = new ArrayList<>();
        List<double[]> healthy = new ArrayList<>();
        double[] groundOhm = new double[scenes.size()];
        for (int i = 0; i < groundOhm.length; i++) {
            known.add(new HashMap<>());
            groundOhm[i] = scenes.get(i).groundOhm();
            healthy.add(Response.healthy(scenes.get(i), observed));
        }
        Layout layout = scenes.getFirst().off().trunk().layout;
        for (Family family : families) {
            Talk.Pictures pictures = talk.pictures(family);
            double base = Math.log(family.odds()) + Found.logOf(layout, family, done);
            Alike alike = alike(layout, family);
            for (int i = 0; i < scenes.size(); i++) {
                if (isOutOfScene(family, groundOhm[i])) {
                    continue;
                }
                Scene scene = scenes.get(i);
                Response first = known.get(i).get(alike);
                Response response = first != null && alike.kind.isEmpty()
                        ? first
                        : new Response(family, scene, observed, Optional.ofNullable(first), healthy.get(i));
                known.get(i).putIfAbsent(alike, response);
                add(particles, family, response, scene, pictures, base + Math.log(scene.weight()));
            }
        }
        return particles;
    }

    /** Open to ground where inputs lead there, or led there by nothing: a slip, found without solving anything. */
    private boolean isOutOfScene(Family family, double healthyGroundOhm) {
        if (toGround == null) {
            return false;
        }
        boolean cutsOff = family.kind() == FaultKind.CONNECTOR_FAULT || family.kind() == FaultKind.TRUNK_OPEN || family.also().isPresent();
        boolean touches = family.kind() == FaultKind.SHORT_TO_GROUND || family.kind() == FaultKind.SHORT_TO_SUPPLY;
        return toGround.open ? healthyGroundOhm < LOW_RANGE_OHM && !cutsOff : Predicted.isOpen(healthyGroundOhm) && !toGround.skin && !touches;
    }

    /** What was read to ground at the connector, where the lines read alike. @param skin it may have been a finger on the probe */
    private record ToGround(boolean open, boolean skin) {
        static @Nullable ToGround of(List<Observed> observed) {
            List<Observed> read = observed.stream().filter(one -> one.probe().equals(Probe.at(Probe.Measure.HIGH_GROUND))
                    || one.probe().equals(Probe.at(Probe.Measure.LOW_GROUND))).toList();
            boolean alike = !read.isEmpty() && read.stream().allMatch(one -> one.isOpen() == read.getFirst().isOpen());
            boolean skin = read.stream().allMatch(one -> one.shown() > SKIN_OHM);
            return alike ? new ToGround(read.getFirst().isOpen(), skin) : null;
        }
    }

    /** Suspicions that share their derivatives; those without a kind read alike altogether. */
    private record Alike(Optional<FaultKind> kind, Optional<Line> line, int part, boolean towardA, int stretch, boolean ranged,
            boolean beyond, Optional<Alike> also) {}

    private Alike alike(Layout layout, Family family) {
        if (Response.isInert(family, voltages)) {
            return new Alike(Optional.empty(), Optional.empty(), Tap.NONE, false, Tap.NONE, false, false, Optional.empty());
        }
        boolean module = Ranking.isModule(family.kind());
        double metres = module ? layout.nodeMetres[family.part()] : family.metres();
        int part = module && !layout.carries(family.part()) ? Tap.NONE : family.part();
        double low = family.range().map(Family.Decades::from).orElse(0.0);
        return new Alike(Optional.of(family.kind()), family.line(), part, metres < layout.connectorMetres, stretch(layout, family), low > 0,
                family.also().filter(second -> second.metres() < family.metres()).isPresent(),
                family.also().map(second -> alike(layout, second)));
    }

    /** A break leaves some of the inputs on the meter's side: those of its own stretch, or of its part of a trunk for the many steps of a joint. */
    private static int stretch(Layout layout, Family family) {
        return switch (family.kind()) {
            case TRUNK_OPEN -> family.gap();
            case TRUNK_SERIES_RESISTANCE -> family.gap() * JOINT_PARTS / layout.gaps().size();
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, TERMINATOR_MISSING, TERMINATOR_DRIFTED, EXTRA_TERMINATOR,
                    TRUNK_SHORT_HIGH_LOW, SHORT_TO_GROUND, SHORT_TO_SUPPLY, MODULE_SUPPLY, MODULE_STUB, MODULE_INTERNAL, MODULE_SHUNT,
                    MODULE_UNPLUGGED, REPORTER_ITSELF, SENDER_DATA, SUPPLY_LOW, CONNECTOR_FAULT, OTHER ->
                Tap.NONE;
        };
    }

    private void add(List<Particle> particles, Family family, Response response, Scene scene, Talk.Pictures pictures, double base) {
        if (family.range().isEmpty()) {
            double[] at = response.at(Mesh.OPEN);
            double atOwnPlug = family.kind() == FaultKind.MODULE_STUB ? cutOff(family.part(), at) : 0;
            if (near(at, at, scene)) {
                double broken = talk.broken(family, Mesh.OPEN);
                Density density = density(response, scene, at, at, Mesh.OPEN, talk.quiet(family, Mesh.OPEN));
                particles.add(new Particle(family, Mesh.OPEN, scene, base + atOwnPlug + density.log + pictures.log(broken)));
            }
            return;
        }
        Family.Decades range = family.range().get();
        int steps = (int) Math.max(2, Math.ceil(range.count() * STEPS_PER_DECADE));
        double ratio = Math.pow(10, range.count() / steps);
        double half = Math.sqrt(ratio);
        double ohm = range.from();
        double[] from = response.at(ohm);
        boolean still = false;
        boolean near = false;
        Density density = NOWHERE;
        for (int i = 0; i < steps; i++) {
            double middle = ohm * half;
            double[] to = response.at(ohm * ratio);
            // A resistance that no reading sees moves nothing from one step to the next.
            boolean same = still && !voltages && java.util.Arrays.equals(from, to);
            near = same ? near : near(from, to, scene);
            still = near && java.util.Arrays.equals(from, to);
            if (near) {
                double broken = talk.broken(family, middle);
                density = same ? density : onCurve(response, scene, from, to, ohm, ratio, talk.quiet(family, middle));
                particles.add(new Particle(family, middle * Math.pow(ratio, density.nearest - 0.5), scene,
                        base - Math.log(steps) + density.log + pictures.log(broken)));
            }
            from = to;
            ohm *= ratio;
        }
    }

    /**
     * A broken branch read at its own module: nothing leads there where the wire is broken, the trunk where a pin of the module's plug is; either as likely.
     *
     * @param at what the network reads there, opened where that was read
     * @return the chance of it, log
     */
    private double cutOff(int module, double[] at) {
        double log = 0;
        for (int i = 0; i < at.length; i++) {
            Observed one = observed.get(i);
            if (one.probe().equals(new Probe(Probe.Measure.HIGH_LOW, Probe.Where.MODULE, module))) {
                at[i] = one.shown() > SKIN_OHM ? Mesh.OPEN : at[i];
                log += LOG_EITHER_SIDE;
            }
        }
        return log;
    }

    private boolean near(double[] from, double[] to, Scene scene) {
        int slips = 0;
        for (int i = 0; i < from.length; i++) {
            Observed one = observed.get(i);
            double low = Math.min(from[i], to[i]);
            double high = Math.max(from[i], to[i]);
            boolean open = Predicted.isOpen(high);
            if (open != one.isOpen()) {
                slips++;
            } else if (!open && !one.probe().isVoltage()) {
                double shown = one.shown() - lead.value();
                double slack = 1 + farShare * Math.max(shown, Math.min(high, 2 * shown + 10)) + FAR_SD * one.ownSd();
                double times = scene.isLoose(one.probe(), shown) ? scene.times(one.probe()) : 1;
                if (shown < low / times - slack || shown > high * times + slack) {
                    return false;
                }
            }
        }
        return slips <= MOST_SLIPS;
    }

    /** @param nearest how far along the step the readings are met best, 0 to 1 */
    private record Density(double log, double nearest) {
        Density plus(double more) {
            return new Density(log + more, nearest);
        }
    }

    private static final Density NOWHERE = new Density(Double.NEGATIVE_INFINITY, 0.5);

    private Density density(Response response, Scene scene, double[] from, double[] to, double ohm, double quiet) {
        double log = 0;
        int[] counted = new int[observed.size()];
        int count = 0;
        for (int i = 0; i < from.length; i++) {
            boolean open = Predicted.isOpen(from[i]) || Predicted.isOpen(to[i]);
            if (Double.isNaN(from[i]) || Double.isNaN(to[i])) {
                log += -Math.log(30);
            } else if (observed.get(i).isOpen() != open) {
                log += logSlip(observed.get(i).shown(), from[i]);
            } else if (!open) {
                counted[count++] = i;
            }
        }
        return count == 0
                ? new Density(log, 0.5)
                : normal(new Nuisances(response, scene, ohm, quiet), from, to, java.util.Arrays.copyOf(counted, count)).plus(log);
    }

    /**
     * Several readings bend the curve, and sharp ones see how far the chord of a step misses it: where the chord is met inside the step, the tangent
     * of the curve there takes its place.
     */
    private Density onCurve(Response response, Scene scene, double[] from, double[] to, double ohm, double ratio, double quiet) {
        Density chord = density(response, scene, from, to, ohm * Math.sqrt(ratio), quiet);
        if (from.length < 2 || chord.nearest <= 0 || chord.nearest >= 1) {
            return chord;
        }
        double at = ohm * Math.pow(ratio, chord.nearest);
        double[] here = response.at(at);
        double[] further = response.at(at * Math.pow(ratio, TANGENT));
        double[] start = new double[here.length];
        double[] end = new double[here.length];
        for (int i = 0; i < here.length; i++) {
            double slope = (further[i] - here[i]) / TANGENT;
            boolean straight = Double.isFinite(slope);
            start[i] = straight ? here[i] - chord.nearest * slope : from[i];
            end[i] = straight ? here[i] + (1 - chord.nearest) * slope : to[i];
        }
        return density(response, scene, start, end, at, quiet);
    }

    private static double logSlip(double shownOhm, double predictedOhm) {
        if (Predicted.isOpen(shownOhm)) {
            return predictedOhm > HIGH_RANGE_OHM ? LOG_HIGH_RANGE : predictedOhm > LOW_RANGE_OHM ? LOG_LOW_RANGE : LOG_SLIP;
        }
        return shownOhm > SKIN_OHM ? LOG_SKIN - Math.log(shownOhm) : LOG_SLIP;
    }

    private record Nuisances(Response response, Scene scene, double ohm, double quiet) {}

    private Density normal(Nuisances nuisances, double[] from, double[] to, int[] counted) {
        int n = counted.length;
        double[][] covariance = new double[n][n];
        double[] off = new double[n];
        double[] along = new double[n];
        double[] middle = new double[n];
        double head = 0;
        for (int i = 0; i < n; i++) {
            Observed one = observed.get(counted[i]);
            boolean volt = one.probe().isVoltage();
            double shift = volt ? load(one, nuisances.quiet) * LOAD_VOLT : lead.value();
            double shown = one.shown() - shift;
            double nominal = from[counted[i]];
            along[i] = to[counted[i]] - nominal;
            middle[i] = (nominal + to[counted[i]]) / 2;
            double own = one.ownSd();
            if (shown > 0 && nominal > 0 && nuisances.scene.isLoose(one.probe(), shown)) {
                // Off by a factor: the logarithm is what is normal, laid on the scale of the prediction.
                off[i] = nominal * Math.log(shown / nominal);
                own = Math.hypot(own * nominal / shown, Scene.spread(one.probe()) * nominal);
                head += Math.log(nominal / shown);
            } else {
                off[i] = shown - nominal;
            }
            covariance[i][i] = own * own;
        }
        spread(nuisances, counted, middle, covariance);
        return along(Cholesky.of(covariance), off, along).plus(head);
    }

    /** Frames part the lines only on a bus that runs. */
    private static double load(Observed volt, double quiet) {
        return (volt.probe().measure() == Probe.Measure.HIGH_VOLT ? 1 : -1) * (1 - quiet);
    }

    private void spread(Nuisances nuisances, int[] counted, double[] middle, double[][] covariance) {
        int n = counted.length;
        double[] move = new double[n];
        for (int k = 0; k < nuisances.response.nuisances(); k++) {
            for (int i = 0; i < n; i++) {
                move[i] = nuisances.response.move(k, counted[i], nuisances.ohm);
            }
            add(covariance, move);
        }
        for (int i = 0; i < n; i++) {
            Probe probe = observed.get(counted[i]).probe();
            move[i] = probe.isVoltage() ? 0 : gainSd * middle[i];
        }
        add(covariance, move);
        for (int i = 0; i < n; i++) {
            move[i] = observed.get(counted[i]).probe().isVoltage() ? 0 : lead.standardUncertainty();
        }
        add(covariance, move);
        if (!voltages) {
            return;
        }
        for (int i = 0; i < n; i++) {
            Observed one = observed.get(counted[i]);
            move[i] = one.probe().isVoltage() ? load(one, nuisances.quiet) * LOAD_SD : 0;
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

    /** A reading that no suspicion of the list expects: any resistance over seven decades (below 10 ohm alike), any voltage, anyone silent, anyone accused. */
    double logOther(double odds) {
        double log = Math.log(Math.max(odds, 1e-12));
        for (Observed one : observed) {
            log += logOfAnything(one);
        }
        return log + talk.logOther();
    }

    static double logOfAnything(Observed one) {
        return -Math.log(one.isOpen() ? 4 : one.probe().isVoltage() ? 30 : 16 * Math.max(one.shown(), 10));
    }
}
