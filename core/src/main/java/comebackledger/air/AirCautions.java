package comebackledger.air;

import comebackledger.measure.UnitOfMeasure;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What can hurt someone in a test with shop air, and what keeps it from doing so. Common practice, no source; the maker's limits come first. */
public final class AirCautions {
    private static final String RELIEVE = "The volume holds energy: relieve the pressure before anything is disconnected.";
    private static final double PLUG_M = 0.1; // a usual charge-air hose; common practice, no source

    private AirCautions() {}

    /** For a test that is still to be made. @param measured with a flow or a pressure decay, not looked at only */
    public static List<String> before(AirSystem system, boolean measured) {
        List<String> cautions = new ArrayList<>();
        if (system.maxTestPa().isPresent()) {
            cautions.add(String.format(Locale.ROOT, "This build's limit is %.0f kPa (%.0f psi) gauge: set the regulator and the relief valve first.",
                    system.maxTestPa().getAsDouble() / 1000, UnitOfMeasure.PSI.fromSi(system.maxTestPa().getAsDouble())));
        }
        cautions.addAll(common(0, system));
        if (measured) {
            cautions.add(RELIEVE);
        }
        return List.copyOf(cautions);
    }

    /** Of a smoke test. */
    static List<String> looked(double gaugePa, AirSystem system) {
        return List.copyOf(common(gaugePa, system));
    }

    static List<String> measured(AirTest test, AirSystem system) {
        List<String> cautions = common(test.gaugePa(), system);
        cautions.add(RELIEVE);
        if (test instanceof AirTest.HoldDown hold && test.gaugePa() > 0) {
            double full = test.ambientPa().value() + test.gaugePa();
            double settled = Filling.settledPa(full, test.ambientPa().value());
            cautions.add(String.format(Locale.ROOT,
                    "Filling heats the air, and as it cools the pressure falls by itself, here by up to %.0f kPa (to %.0f degC from %.0f): "
                            + "wait until it stands still before the time is taken.",
                    (full - settled) / 1000, Filling.afterFillKelvin(full, test.ambientPa().value(), hold.kelvin().value()) - 273.15,
                    hold.kelvin().value() - 273.15));
        }
        return List.copyOf(cautions);
    }

    private static List<String> common(double gaugePa, AirSystem system) {
        List<String> cautions = new ArrayList<>();
        if (system.maxTestPa().isPresent() && gaugePa > system.maxTestPa().getAsDouble()) {
            cautions.add(
                    String.format(Locale.ROOT, "The test pressure of %.0f kPa is above this build's limit of %.0f kPa: lower the regulator first.",
                            gaugePa / 1000, system.maxTestPa().getAsDouble() / 1000));
        }
        cautions.add("The maker's service information, its pressure limit and licensed practice come first.");
        cautions.add("Engine off and cool, key out: a hot or turning engine is another test's business.");
        String force = gaugePa > 0
                ? String.format(Locale.ROOT, " (at %.0f kPa a plug of 100 mm is pushed with %.0f N)", gaugePa / 1000, plugForceN(PLUG_M, gaugePa))
                : "";
        cautions.add("Plugs, hoses and adapters can fly off under pressure" + force + ": clamp them, stand aside, wear eye protection.");
        cautions.add("Too much pressure lifts crankcase and turbocharger seals: use a regulator and a relief valve.");
        return cautions;
    }

    /** Pressure times area. */
    static double plugForceN(double diameterM, double gaugePa) {
        return gaugePa * Math.PI / 4 * diameterM * diameterM;
    }
}
