package comebackledger.judge;

import comebackledger.code.Candump;
import comebackledger.code.CodeMeaning;
import comebackledger.code.CodeReport;
import comebackledger.code.CodeState;
import comebackledger.code.DmLamps;
import comebackledger.code.J1939Code;
import comebackledger.code.J2012Code;
import comebackledger.code.Lamp;
import comebackledger.code.SeenCode;
import comebackledger.code.TroubleCode;
import comebackledger.unit.Build;
import comebackledger.unit.Network;
import comebackledger.unit.Node;
import comebackledger.visit.Capture;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.Lamps;
import comebackledger.visit.Place;
import comebackledger.visit.Stage;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** The codes and lamps of a visit, from its entries and its captures. */
final class CodeJudge {
    /** The system of a communication code that no one network holds. */
    static final String UNASSIGNED = Place.network("unassigned");

    private static final int COUNT_NOT_KNOWN = 127; // SAE J1939-73 (from memory)
    private static final int SPN_OF_FIRST_ADDRESS = 2000; // SAE J1939-71 (from memory): the source addresses as parameters
    private static final int HIGHEST_ADDRESS = 253;
    private static final int NOT_HEARD = 9;

    private final Build build;
    private final List<CodeFact> codes = new ArrayList<>();
    private final List<Warning> warnings = new ArrayList<>();
    private final List<LampReport> lamps = new ArrayList<>();

    private record LampReport(Stage stage, DmLamps lamps) {}

    CodeJudge(Build build) {
        this.build = build;
    }

    static CodeJudge of(Visit visit, Build build) {
        CodeJudge judge = new CodeJudge(build);
        for (int i = 0; i < visit.codes().size(); i++) {
            judge.entry(visit.codes().get(i), "/codes/" + i);
        }
        for (int i = 0; i < visit.captures().size(); i++) {
            judge.capture(visit.captures().get(i), "/captures/" + i);
        }
        return judge;
    }

    /** Codes that stand by themselves, outside any visit. */
    static List<CodeFact> decoded(List<CodeEntry> entries, Build build) {
        CodeJudge judge = new CodeJudge(build);
        for (int i = 0; i < entries.size(); i++) {
            judge.entry(entries.get(i), "/codes/" + i);
        }
        return judge.codes;
    }

    List<CodeFact> codes() {
        return codes;
    }

    List<Warning> warnings() {
        return warnings;
    }

    private void entry(CodeEntry entry, String pointer) {
        TroubleCode code = entry.code().flatMap(J2012Code::parse).map(parsed -> (TroubleCode) parsed)
                .orElseGet(() -> J1939Code.of(entry.spn().orElse(0), entry.fmi().orElse(0)));
        OptionalInt occurrences = code instanceof J1939Code && entry.occurrences().orElse(0) == COUNT_NOT_KNOWN
                ? OptionalInt.empty()
                : entry.occurrences();
        add(code, pointer, entry.network(), entry.reportedBy(), entry.sourceAddress(), entry.status(), occurrences, entry.setDuringService(),
                entry.stage());
    }

    private void capture(Capture capture, String pointer) {
        CodeReport report = Candump.read(capture.text());
        for (SeenCode seen : report.codes()) {
            CodeStatus status = seen.status().map(CodeJudge::status).orElse(CodeStatus.STORED);
            add(seen.code(), pointer, capture.network(), Optional.empty(), seen.sourceAddress(), status, seen.occurrences(), false, capture.stage());
        }
        report.lamps().forEach(sender -> lamps.add(new LampReport(capture.stage(), sender.lamps())));
        report.rejected().stream().limit(5).forEach(rejection -> warnings.add(new Warning(pointer + "/text",
                "Line " + rejection.number() + " was not read (" + rejection.why().word() + "): " + rejection.detail())));
    }

    private static CodeStatus status(CodeState state) {
        return switch (state) {
            case ACTIVE -> CodeStatus.ACTIVE;
            case PENDING -> CodeStatus.PENDING;
            case STORED -> CodeStatus.STORED;
            case PERMANENT -> CodeStatus.PERMANENT;
        };
    }

    private void add(TroubleCode code, String pointer, Optional<String> namedNetwork, Optional<String> reportedBy, OptionalInt sourceAddress,
            CodeStatus status, OptionalInt occurrences, boolean setDuringService, Stage stage) {
        CodeMeaning meaning = CodeMeaning.of(code);
        Optional<String> reporter = reportedBy
                .or(() -> sourceAddress.isPresent() ? moduleAt(sourceAddress.getAsInt(), namedNetwork) : Optional.empty());
        Optional<String> accused = meaning.accusesReporter()
                ? reporter
                : accused(meaning, namedNetwork).filter(module -> reporter.filter(module::equals).isEmpty()); // nobody misses itself
        CodeFact.Family family = family(code);
        Optional<String> system = switch (family) {
            case COMMUNICATION -> Optional.of(namedNetwork.map(Place::network).orElseGet(() -> networkOf(accused, reporter)));
            case CHARGE_AIR -> Optional.of(Place.CHARGE_AIR);
            case LOW_SUPPLY, OTHER -> Optional.empty();
        };
        String keeper = reporter.orElse(sourceAddress.isPresent() ? "address-" + sourceAddress.getAsInt() : "");
        String key = code.text() + "@" + keeper + "@" + system.orElse("");
        codes.add(new CodeFact(key, code.text(), pointer, family, meaning.kind(), system, accused, reporter, status, occurrences, setDuringService,
                stage));
    }

    private static CodeFact.Family family(TroubleCode code) {
        if (CodeMeaning.isCommunication(code)) {
            return CodeFact.Family.COMMUNICATION;
        }
        if (CodeMeaning.isChargeAir(code)) {
            return CodeFact.Family.CHARGE_AIR;
        }
        return CodeMeaning.isLowSupply(code) ? CodeFact.Family.LOW_SUPPLY : CodeFact.Family.OTHER;
    }

    private List<Network> networks(Optional<String> named) {
        return build.networks().orElse(List.of()).stream().filter(network -> named.filter(name -> !network.name().equals(name)).isEmpty()).toList();
    }

    /** The build's module of an address, else the usual name of the address. */
    private Optional<String> moduleAt(int address, Optional<String> network) {
        Optional<String> inBuild = networks(network).stream().flatMap(one -> one.nodes().orElse(List.of()).stream())
                .filter(node -> node.address().isPresent() && node.address().getAsInt() == address).map(Node::module).findFirst();
        return inBuild.or(() -> address > HIGHEST_ADDRESS
                ? Optional.empty()
                : inBuild(usualNames(address), network));
    }

    private static List<String> usualNames(int address) {
        return CodeMeaning.of(J1939Code.of(SPN_OF_FIRST_ADDRESS + address, NOT_HEARD)).accusedNames();
    }

    private Optional<String> accused(CodeMeaning meaning, Optional<String> network) {
        if (meaning.accusedAddress().isPresent()) {
            return moduleAt(meaning.accusedAddress().getAsInt(), network);
        }
        return inBuild(meaning.accusedNames(), network);
    }

    /** Of the usual names of a module, the one that the build uses; else the build's own name of the module at its usual address; else the most usual. */
    private Optional<String> inBuild(List<String> names, Optional<String> network) {
        List<Node> nodes = networks(network).stream().flatMap(one -> one.nodes().orElse(List.of()).stream()).toList();
        return names.stream().filter(name -> nodes.stream().anyMatch(node -> node.module().equals(name))).findFirst()
                .or(() -> nodes.stream()
                        .filter(node -> node.address().isPresent() && usualNames(node.address().getAsInt()).stream().anyMatch(names::contains))
                        .map(Node::module).findFirst())
                .or(() -> names.stream().findFirst());
    }

    /** The only network that holds the accused and the reporter. */
    private String networkOf(Optional<String> accused, Optional<String> reporter) {
        List<String> holding = build.networks().orElse(List.of()).stream().filter(network -> holds(network, accused) && holds(network, reporter))
                .map(Network::name).toList();
        return holding.size() == 1 ? Place.network(holding.getFirst()) : UNASSIGNED;
    }

    private static boolean holds(Network network, Optional<String> module) {
        return module.isEmpty() || network.nodes().isEmpty() || network.node(module.get()).isPresent();
    }

    // Lamps.

    /** Each lamp as last reported: on leaving if anybody reported it then, else on arrival; on if the dash or any sender says so. */
    LampFact lamps(Visit visit) {
        return new LampFact(lamp(visit, Lamp.RED_STOP), lamp(visit, Lamp.AMBER_WARNING), lamp(visit, Lamp.MALFUNCTION), lamp(visit, Lamp.PROTECT));
    }

    private Optional<Boolean> lamp(Visit visit, Lamp lamp) {
        return anyOn(visit.lampsAtRelease(), Stage.AS_LEFT, lamp).or(() -> anyOn(visit.lamps(), Stage.AS_FOUND, lamp));
    }

    private Optional<Boolean> anyOn(Optional<Lamps> dash, Stage stage, Lamp lamp) {
        Optional<Boolean> said = dash.isEmpty() ? Optional.empty() : shown(dash.get(), lamp);
        for (LampReport report : lamps) {
            if (report.stage() == stage) {
                said = eitherOn(said, report.lamps().isOn(lamp));
            }
        }
        return said;
    }

    private static Optional<Boolean> eitherOn(Optional<Boolean> one, Optional<Boolean> other) {
        return one.isPresent() && (other.isEmpty() || one.get()) ? one : other;
    }

    private static Optional<Boolean> shown(Lamps dash, Lamp lamp) {
        return switch (lamp) {
            case RED_STOP -> dash.redStop();
            case AMBER_WARNING -> dash.amberWarning();
            case MALFUNCTION -> dash.malfunction();
            case PROTECT -> dash.protect();
        };
    }
}
