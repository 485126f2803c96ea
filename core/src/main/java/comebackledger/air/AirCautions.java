package comebackledger.air;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What can hurt someone in a test with shop air, and what keeps it from doing so. Common practice, no source; the maker's limits come first. */
final class AirCautions {
    private AirCautions() {}

    static List<String> of(double gaugePa, AirSystem system, boolean measured) {
        List<String> cautions = new ArrayList<>();
        if (system.maxTestPa().isPresent() && gaugePa > system.maxTestPa().getAsDouble()) {
            cautions.add(
                    String.format(Locale.ROOT, "The test pressure of %.0f kPa is above this build's limit of %.0f kPa: lower the regulator first.",
                            gaugePa / 1000, system.maxTestPa().getAsDouble() / 1000));
        }
        cautions.add("The maker's service information, its pressure limit and licensed practice come first.");
        cautions.add("Engine off and cool, key out: a hot or turning engine is another test's business.");
        cautions.add("Plugs, hoses and adapters can fly off under pressure: clamp them, stand aside, wear eye protection.");
        cautions.add("Too much pressure lifts crankcase and turbocharger seals: use a regulator and a relief valve.");
        if (measured) {
            cautions.add("The volume holds energy: relieve the pressure before anything is disconnected.");
        }
        return List.copyOf(cautions);
    }
}
