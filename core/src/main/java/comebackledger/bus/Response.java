package comebackledger.bus;

import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What every probe reads under one suspicion in one scene, as a function of its free resistance, and how far each nuisance moves that. Solved
 * when first asked for: most suspicions are far off before a derivative is needed.
 */
final class Response {
    private final Family family;
    private final Scene scene;
    private final List<Observed> observed;
    private final double[] healthy;
    private final Curve nominal;
    private final @Nullable Curve[] moved;
    private final Optional<Response> alike;

    /**
     * @param alike one of the same kind on the same side of the connector, whose derivatives are as good
     * @param healthy what the sound network reads in this scene
     */
    Response(Family family, Scene scene, List<Observed> observed, Optional<Response> alike, double[] healthy) {
        this.alike = alike;
        this.healthy = healthy;
        this.family = family;
        this.scene = scene;
        this.observed = observed;
        this.nominal = curve(Tap.NONE);
        this.moved = new @Nullable Curve[scene.off().moved().size()];
    }

    /** Whether a suspicion changes no current with the power off or on, so that all of its kind read like a sound network. */
    static boolean isInert(Family family, boolean voltages) {
        return switch (family.kind()) {
            case MODULE_SUPPLY -> !voltages;
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, MODULE_INTERNAL, REPORTER_ITSELF, SENDER_DATA, SUPPLY_LOW, OTHER -> true;
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED, EXTRA_TERMINATOR, TRUNK_OPEN, TRUNK_SERIES_RESISTANCE, TRUNK_SHORT_HIGH_LOW, SHORT_TO_GROUND,
                    SHORT_TO_SUPPLY, MODULE_STUB, MODULE_SHUNT, MODULE_UNPLUGGED, CONNECTOR_FAULT ->
                false;
        };
    }

    private Curve curve(int nuisance) {
        if (family.range().isEmpty()) {
            double[] always = predict(Mesh.OPEN, nuisance);
            return new Curve(always, always, always);
        }
        double[] middle = predict(Curve.MIDDLE_OHM, nuisance);
        boolean sound = nuisance == Tap.NONE && family.also().isEmpty();
        return switch (family.kind()) {
            case TRUNK_SHORT_HIGH_LOW, SHORT_TO_GROUND, SHORT_TO_SUPPLY, MODULE_SHUNT ->
                new Curve(predict(0, nuisance), middle, sound ? healthy : predict(Mesh.OPEN, nuisance));
            case TRUNK_SERIES_RESISTANCE, CONNECTOR_FAULT ->
                new Curve(sound ? healthy : predict(0, nuisance), middle, predict(Mesh.OPEN, nuisance));
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, TERMINATOR_MISSING, TERMINATOR_DRIFTED, EXTRA_TERMINATOR, TRUNK_OPEN,
                    MODULE_SUPPLY, MODULE_STUB, MODULE_INTERNAL, MODULE_UNPLUGGED, REPORTER_ITSELF, SENDER_DATA, SUPPLY_LOW, OTHER ->
                new Curve(predict(0, nuisance), middle, predict(Mesh.OPEN, nuisance));
        };
    }

    /** What every probe reads on the sound network. */
    static double[] healthy(Scene scene, List<Observed> observed) {
        Trunk.Laid off = scene.off().trunk().healthy();
        Trunk.Laid on = scene.on().trunk().healthy();
        return observed.stream().map(Observed::probe).mapToDouble(probe -> probe.isVoltage()
                ? probe.of(scene.on().trunk(), on)
                : probe.of(scene.off().trunk(), off)).toArray();
    }

    private double[] predict(double ohm, int nuisance) {
        double[] values = new double[observed.size()];
        Trunk.@Nullable Laid off = null;
        Trunk.@Nullable Laid on = null;
        @Nullable
        Probe last = null;
        Mesh seen = new Mesh();
        for (int i = 0; i < values.length; i++) {
            Probe probe = observed.get(i).probe();
            Scene.Side side = probe.isVoltage() ? scene.on() : scene.off();
            Trunk trunk = nuisance == Tap.NONE ? side.trunk() : side.moved().get(nuisance);
            Trunk.Laid laid;
            if (probe.isVoltage()) {
                on = on == null ? trunk.lay(family.faults(trunk.layout, ohm)) : on;
                laid = on;
            } else {
                off = off == null ? trunk.lay(family.faults(trunk.layout, ohm)) : off;
                laid = off;
            }
            if (probe.isLine()) {
                values[i] = probe.of(trunk, laid);
            } else {
                seen = last != null && probe.isBeside(last) ? seen : probe.seen(trunk, laid);
                last = probe;
                values[i] = probe.of(seen);
            }
        }
        return values;
    }

    double[] at(double ohm) {
        double[] values = new double[observed.size()];
        for (int i = 0; i < values.length; i++) {
            values[i] = nominal.at(i, ohm);
        }
        return values;
    }

    int nuisances() {
        return moved.length;
    }

    /** By one standard deviation of a nuisance; 0 where a reading is open either way. */
    double move(int nuisance, int probe, double ohm) {
        return alike.isPresent() ? alike.get().ownMove(nuisance, probe, ohm) : ownMove(nuisance, probe, ohm);
    }

    private double ownMove(int nuisance, int probe, double ohm) {
        Curve curve = moved[nuisance];
        if (curve == null) {
            curve = curve(nuisance);
            moved[nuisance] = curve;
        }
        double difference = curve.at(probe, ohm) - nominal.at(probe, ohm);
        return Double.isFinite(difference) ? difference : 0;
    }
}
