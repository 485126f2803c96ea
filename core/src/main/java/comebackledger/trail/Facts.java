package comebackledger.trail;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** What answers read from the state of a unit beside its trails. */
public final class Facts {
    private final UnitState state;

    private Facts(UnitState state) {
        this.state = state;
    }

    public static Facts of(UnitState state) {
        return new Facts(state);
    }

    /** A module that was silent when last called. */
    public record Silence(String network, String module, String visit, boolean repairedSince, boolean claimedSince) {}

    /** The loss that the latest charge-air test told. */
    public record Loss(String visit, double shareOfEngineAir, boolean repairedSince, boolean claimedSince) {}

    /** The visit that declared the unit out of service, while nothing lifts it. */
    public Optional<String> outOfServiceBy() {
        return state.duty().outOfServiceBy();
    }

    /** The visit whose driver's report lists a defect that nobody certified. */
    public Optional<String> defectBy() {
        return state.duty().defectBy();
    }

    /** The visit that last reported the lamp, if it was on. */
    public Optional<String> lampOn(String lamp) {
        return Optional.ofNullable(state.lamps().get(lamp)).filter(LampState::on).map(LampState::visit);
    }

    public Optional<Boolean> lamp(String lamp) {
        return Optional.ofNullable(state.lamps().get(lamp)).map(LampState::on);
    }

    public List<Silence> silences() {
        return state.silences().values().stream()
                .map(one -> new Silence(one.network(), one.module(), one.visit(), one.repairedSince(), one.claimedSince())).toList();
    }

    public Optional<Loss> loss() {
        return state.loss().map(one -> new Loss(one.visit(), one.shareOfEngineAir(), one.repairedSince(), one.claimedSince()));
    }

    /** The summed odds of these faults in the latest failing check of a network. */
    public double faultOdds(String network, Set<String> faults) {
        NetworkFinding finding = state.findings().get(network);
        return finding == null
                ? 0
                : finding.faultOdds().entrySet().stream().filter(entry -> faults.contains(entry.getKey())).mapToDouble(entry -> entry.getValue())
                        .sum();
    }

    /** Those of these faults that are suspected there, the likeliest first. */
    public List<String> faultsOf(String network, Set<String> faults) {
        NetworkFinding finding = state.findings().get(network);
        return finding == null
                ? List.of()
                : finding.faultOdds().entrySet().stream().filter(entry -> faults.contains(entry.getKey()))
                        .sorted(Map.Entry.<String, Double>comparingByValue().reversed()).map(Map.Entry::getKey).toList();
    }

    public Optional<String> findingVisit(String network) {
        return Optional.ofNullable(state.findings().get(network)).map(NetworkFinding::visit);
    }
}
