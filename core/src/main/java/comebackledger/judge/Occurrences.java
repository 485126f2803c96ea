package comebackledger.judge;

import comebackledger.visit.Place;
import comebackledger.visit.Stage;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * From the evidence of one visit to its occurrences, one a place. Per network the evidence is the counting codes, the as-found checks and the
 * silent modules; for the charge air the counting codes, the as-found tests and the leaks located. An as-left test that fails counts as well.
 */
public final class Occurrences {
    /** The part that stands for the whole of a network. */
    public static final String TRUNK = "trunk";
    /** The part of a leak that nobody found. */
    public static final String UNLOCATED = "unlocated";
    /** A conviction by the supply voltage; the others are a reading's wire name, {@code leak}, or {@code silent:} and a module. */
    public static final String SUPPLY_VOLTAGE = "supplyVoltage";
    /** A conviction that any charge-air test can lift. */
    public static final String LEAK = "leak";
    /** Begins the conviction of a module that must answer a roll call again. */
    public static final String SILENT = "silent:";

    private Occurrences() {}

    /** What a visit brings: its occurrences by place, the codes that counted, and the memory of codes after it. */
    public record Of(List<Occurrence> occurrences, List<CodeFact> counting, CodeMemory memory) {}

    /** @param namePlaceAt the probability from which the first suspect names the place */
    public static Of of(VisitFacts facts, CodeMemory memory, double namePlaceAt) {
        CodeMemory.After codes = memory.visit(facts);
        if (codes.counting().isEmpty() && facts.busChecks().isEmpty() && facts.airTests().isEmpty() && facts.supplies().isEmpty()) {
            return new Of(List.of(), List.of(), codes.memory()); // a service, as most visits are
        }
        boolean supplyLow = facts.supplyLow();
        List<CodeFact> counting = codes.counting().stream()
                .filter(code -> !(supplyLow && code.family() == CodeFact.Family.COMMUNICATION)).toList();
        SortedMap<Place, Occurrence> found = new TreeMap<>();
        if (supplyLow) {
            List<String> pointers = facts.supplies().stream().filter(SupplyFact::low).map(SupplyFact::pointer).toList();
            add(found, new Occurrence(Place.SUPPLY, Occurrence.Kind.CONFIRMED, List.of(), pointers, new TreeSet<>(Set.of(SUPPLY_VOLTAGE)), false));
        }
        for (String system : systems(facts, counting)) {
            List<CodeFact> own = counting.stream().filter(code -> code.system().filter(system::equals).isPresent()).toList();
            if (system.equals(Place.CHARGE_AIR)) {
                chargeAir(facts, own).forEach(occurrence -> add(found, occurrence));
            } else {
                network(facts, system, own, namePlaceAt).ifPresent(occurrence -> add(found, occurrence));
            }
        }
        return new Of(List.copyOf(found.values()), counting, codes.memory());
    }

    private static SortedSet<String> systems(VisitFacts facts, List<CodeFact> counting) {
        SortedSet<String> systems = new TreeSet<>();
        counting.forEach(code -> code.system().ifPresent(systems::add));
        facts.busChecks().forEach(check -> systems.add(Place.network(check.network())));
        if (!facts.airTests().isEmpty()) {
            systems.add(Place.CHARGE_AIR);
        }
        return systems;
    }

    private static void add(SortedMap<Place, Occurrence> found, Occurrence occurrence) {
        found.merge(occurrence.place(), occurrence, Occurrences::merged);
    }

    private static Occurrence merged(Occurrence one, Occurrence other) {
        Set<String> evidence = new LinkedHashSet<>(one.evidence());
        evidence.addAll(other.evidence());
        Set<Place> accused = new LinkedHashSet<>(one.accusedPlaces());
        accused.addAll(other.accusedPlaces());
        SortedSet<String> convictions = new TreeSet<>(one.convictions());
        convictions.addAll(other.convictions());
        Occurrence.Kind kind = one.kind().compareTo(other.kind()) <= 0 ? one.kind() : other.kind();
        return new Occurrence(one.place(), kind, List.copyOf(accused), List.copyOf(evidence), convictions,
                one.byCodesAlone() && other.byCodesAlone());
    }

    // Networks.

    private static Optional<Occurrence> network(VisitFacts facts, String system, List<CodeFact> codes, double namePlaceAt) {
        List<BusFact> checks = facts.busChecks().stream().filter(check -> Place.network(check.network()).equals(system) && check.counts()).toList();
        List<BusFact> asFound = checks.stream().filter(check -> check.stage() == Stage.AS_FOUND).toList();
        List<BusFact> failing = checks.stream().filter(BusFact::fails).sorted(Comparator.comparing(BusFact::stage)).toList();
        boolean claimed = facts.repairs().stream().anyMatch(repair -> repair.claimsFixed() && repair.place().system().equals(system));
        if (failing.isEmpty() && codes.isEmpty()) {
            return Optional.empty();
        }
        Occurrence.Kind kind = !failing.isEmpty()
                ? Occurrence.Kind.CONFIRMED
                : asFound.isEmpty() || claimed ? Occurrence.Kind.SUSPECTED : Occurrence.Kind.NO_FAULT_FOUND;
        Optional<BusFact> deciding = failing.isEmpty()
                ? asFound.stream().reduce((_, later) -> later)
                : failing.stream().filter(check -> namedPart(check, namePlaceAt).isPresent()).findFirst().or(() -> Optional.of(failing.getFirst()));
        Optional<String> named = deciding.flatMap(check -> namedPart(check, namePlaceAt));
        Optional<String> tested = named.or(() -> deciding.filter(BusFact::fails).map(Occurrences::partOfSilence));
        String part = tested.orElseGet(() -> partOfCodes(codes));
        Set<String> evidence = new LinkedHashSet<>();
        checks.stream().filter(check -> check.fails() || kind == Occurrence.Kind.NO_FAULT_FOUND).forEach(check -> evidence.addAll(check.pointers()));
        codes.forEach(code -> evidence.add(code.pointer()));
        Occurrence occurrence = new Occurrence(Place.of(system, part), kind, List.of(), List.copyOf(evidence), convictions(failing),
                tested.isEmpty());
        return Optional.of(kind == Occurrence.Kind.NO_FAULT_FOUND ? occurrence : movedToCause(occurrence, facts, deciding));
    }

    private static Optional<String> namedPart(BusFact check, double namePlaceAt) {
        return check.suspects().stream().findFirst().filter(suspect -> suspect.probability() >= namePlaceAt).flatMap(SuspectFact::part);
    }

    private static String partOfSilence(BusFact check) {
        return check.silent().size() == 1 ? check.silent().getFirst() : TRUNK;
    }

    /** One accused module: that module; one module accusing two or more that nobody else accuses: the accuser; else the trunk. */
    private static String partOfCodes(List<CodeFact> codes) {
        SortedMap<String, SortedSet<String>> accusersOf = new TreeMap<>();
        codes.forEach(code -> code.accused()
                .ifPresent(accused -> accusersOf.computeIfAbsent(accused, _ -> new TreeSet<>()).add(code.reporter().orElse(""))));
        if (accusersOf.size() == 1) {
            return accusersOf.firstKey();
        }
        SortedSet<String> accusers = accusersOf.values().stream().flatMap(Set::stream).filter(name -> !name.isEmpty())
                .collect(Collectors.toCollection(TreeSet::new));
        List<String> suspect = accusers.stream().filter(accuser -> accusesAllAlone(accuser, accusersOf)).toList();
        if (suspect.size() == 1) {
            return suspect.getFirst();
        }
        return TRUNK;
    }

    /** It accuses two or more others, each accused by nobody else, and nobody but itself is accused besides. */
    private static boolean accusesAllAlone(String accuser, SortedMap<String, SortedSet<String>> accusersOf) {
        List<String> others = accusersOf.keySet().stream().filter(accused -> !accused.equals(accuser)).toList();
        return others.size() >= 2 && others.stream().allMatch(accused -> Set.of(accuser).equals(accusersOf.get(accused)));
    }

    private static SortedSet<String> convictions(List<BusFact> failing) {
        SortedSet<String> convictions = new TreeSet<>();
        for (BusFact check : failing) {
            check.silent().forEach(module -> convictions.add(SILENT + module));
            if (check.verdict() == Verdict.OUTSIDE) {
                convictions.addAll(check.readings());
            }
        }
        return convictions;
    }

    /** A claimed repair names the cause: the occurrence moves there, and the place the evidence accused is kept. */
    private static Occurrence movedToCause(Occurrence occurrence, VisitFacts facts, Optional<BusFact> deciding) {
        List<Place> repaired = facts.repairs().stream()
                .filter(repair -> repair.claimsFixed() && repair.place().part().isPresent()
                        && repair.place().system().equals(occurrence.place().system()))
                .map(RepairFact::place).distinct().toList();
        if (repaired.isEmpty() || repaired.contains(occurrence.place())) {
            return occurrence;
        }
        Place cause = deciding.flatMap(check -> check.suspects().stream().flatMap(suspect -> suspect.part().stream())
                .map(part -> Place.of(occurrence.place().system(), part)).filter(repaired::contains).findFirst()).orElse(repaired.getFirst());
        return moved(occurrence, cause);
    }

    private static Occurrence moved(Occurrence occurrence, Place cause) {
        return new Occurrence(cause, occurrence.kind(), List.of(occurrence.place()), occurrence.evidence(), occurrence.convictions(), false);
    }

    // Charge air.

    private static List<Occurrence> chargeAir(VisitFacts facts, List<CodeFact> codes) {
        List<AirFact> tests = facts.airTests().stream().filter(test -> test.verdict() != Verdict.INVALID).toList();
        List<AirFact> failing = tests.stream().filter(AirFact::fails).toList();
        boolean claimed = facts.repairs().stream().anyMatch(repair -> repair.claimsFixed() && repair.place().system().equals(Place.CHARGE_AIR));
        List<String> codePointers = codes.stream().map(CodeFact::pointer).distinct().toList();
        Map<String, Set<String>> evidenceOfSpot = new TreeMap<>();
        failing.forEach(test -> test.leaksAt().forEach(spot -> evidenceOfSpot.computeIfAbsent(spot, _ -> new LinkedHashSet<>()).add(test.pointer())));
        List<Occurrence> found = new ArrayList<>();
        SortedSet<String> leak = new TreeSet<>(Set.of(LEAK));
        for (Map.Entry<String, Set<String>> spot : evidenceOfSpot.entrySet()) {
            Set<String> evidence = new LinkedHashSet<>(spot.getValue());
            failing.stream().filter(test -> test.leaksAt().isEmpty()).forEach(test -> evidence.add(test.pointer()));
            evidence.addAll(codePointers);
            found.add(new Occurrence(Place.of(Place.CHARGE_AIR, spot.getKey()), Occurrence.Kind.CONFIRMED, List.of(), List.copyOf(evidence), leak,
                    false));
        }
        if (found.isEmpty() && !failing.isEmpty()) {
            List<String> evidence = new ArrayList<>(failing.stream().map(AirFact::pointer).toList());
            evidence.addAll(codePointers);
            found.add(unlocated(Occurrence.Kind.CONFIRMED, evidence, leak, facts));
        } else if (found.isEmpty() && !codes.isEmpty()) {
            List<AirFact> asFound = tests.stream().filter(test -> test.stage() == Stage.AS_FOUND && test.verdict() != Verdict.UNJUDGED).toList();
            boolean noFaultFound = !asFound.isEmpty() && !claimed;
            List<String> evidence = new ArrayList<>(codePointers);
            asFound.forEach(test -> evidence.add(test.pointer()));
            found.add(unlocated(noFaultFound ? Occurrence.Kind.NO_FAULT_FOUND : Occurrence.Kind.SUSPECTED, evidence, new TreeSet<>(), facts));
        }
        return found;
    }

    /** Only a leak that nobody located moves to the place a claimed repair names. */
    private static Occurrence unlocated(Occurrence.Kind kind, List<String> evidence, SortedSet<String> convictions, VisitFacts facts) {
        Occurrence occurrence = new Occurrence(Place.of(Place.CHARGE_AIR, UNLOCATED), kind, List.of(), List.copyOf(evidence), convictions, false);
        if (kind == Occurrence.Kind.NO_FAULT_FOUND) {
            return occurrence;
        }
        return movedToCause(occurrence, facts, Optional.empty());
    }
}
