package comebackledger.code;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * What a code says, in own words.
 *
 * @param system {@code network}, {@code charge-air}, {@code supply}, {@code powertrain}, {@code chassis}, {@code body} or {@code unknown}
 * @param accusedNames what fleets call the accused module, most usual first; a unit's build may use any of them; empty where none is accused
 * @param accusedAddress its SAE J1939 address, where the code names one: surer than a name
 * @param accusesReporter the module that reports it accuses itself
 * @param meaning one sentence
 * @param source of the meaning
 */
public record CodeMeaning(String system, CodeKind kind, List<String> accusedNames, OptionalInt accusedAddress, boolean accusesReporter,
        String meaning,
        String source) {
    private static final int FIRST_ADDRESS_SPN = 2000; // 2000 to 2253 are the source addresses 0 to 253, SAE J1939-71 (from memory)
    private static final int LAST_ADDRESS_SPN = 2253;
    private static final int UPDATE_RATE = 9;
    private static final int DATA_IN_ERROR = 19;
    private static final String J2012 = "SAE J2012 (standard named; from memory)";
    private static final String J1939 = "SAE J1939-71 and -73 (standards named; from memory)";

    public CodeMeaning {
        accusedNames = List.copyOf(accusedNames);
    }

    /** The usual name of the accused module. */
    public Optional<String> accused() {
        return accusedNames.stream().findFirst();
    }

    public static CodeMeaning of(TroubleCode code) {
        return switch (code) {
            case J2012Code j2012 -> j2012(j2012);
            case J1939Code j1939 -> j1939(j1939);
        };
    }

    /** Whether it speaks of a network: the closed list of {@code closed-lists.csv}. */
    public static boolean isCommunication(TroubleCode code) {
        return CodeTables.isListed("communication", code);
    }

    /** Whether it speaks of boost, either way. */
    public static boolean isChargeAir(TroubleCode code) {
        return accusesChargeAir(code) || CodeTables.isListed("charge-air-high", code);
    }

    /** Whether a leak of the charge air would set it: too little boost, or boost gone wrong with no direction named. */
    public static boolean accusesChargeAir(TroubleCode code) {
        return CodeTables.isListed("charge-air-low", code) || CodeTables.isListed("charge-air", code);
    }

    /** Whether it says that the supply voltage sagged. */
    public static boolean isLowSupply(TroubleCode code) {
        return CodeTables.isListed("low-supply", code);
    }

    private static CodeMeaning j2012(J2012Code code) {
        Optional<CodeTables.Row> row = CodeTables.code(code);
        String type = code.failureTypeText().flatMap(CodeTables::failureType).filter(found -> !found.meaning().equals("no subtype"))
                .map(found -> " (" + found.meaning() + ")").orElse("");
        if (code.letter() == 'U') {
            return new CodeMeaning("network", row.map(found -> kindOf(found.kind())).orElse(rangeKind(code)),
                    row.map(CodeTables.Row::names).orElse(List.of()), OptionalInt.empty(), row.map(CodeTables.Row::accusesReporter).orElse(false),
                    sentence(row.map(CodeTables.Row::meaning).orElse(unlisted(code)) + type), row.map(CodeTables.Row::source).orElse(J2012));
        }
        String system = row.map(CodeTables.Row::system).orElse(switch (code.letter()) {
            case 'P' -> "powertrain";
            case 'C' -> "chassis";
            default -> "body";
        });
        return new CodeMeaning(system, plainKind(code), List.of(), OptionalInt.empty(), false,
                sentence(row.map(CodeTables.Row::meaning).orElse(unlisted(code)) + type), row.map(CodeTables.Row::source).orElse(J2012));
    }

    private static CodeKind kindOf(String word) {
        for (CodeKind kind : CodeKind.values()) {
            if (kind.word().equals(word)) {
                return kind;
            }
        }
        return CodeKind.NETWORK_OTHER;
    }

    /** The blocks of the standard's network codes: what a code not listed is about (SAE J2012, from memory). */
    private static CodeKind rangeKind(J2012Code code) {
        if (code.owner() != J2012Code.Owner.ISO_SAE) {
            return CodeKind.NETWORK_OTHER;
        }
        return switch (code.number() >>> 8 & 0xF) {
            case 0 -> CodeKind.BUS;
            case 1, 2 -> CodeKind.LOST_COMMUNICATION;
            case 3 -> CodeKind.SOFTWARE_INCOMPATIBLE;
            case 4, 5 -> CodeKind.INVALID_DATA;
            default -> CodeKind.NETWORK_OTHER;
        };
    }

    private static String unlisted(J2012Code code) {
        return switch (code.owner()) {
            case MAKER -> "a maker's own code without a standard meaning: the maker's service information has it";
            case RESERVED -> "a reserved code without a meaning";
            case ISO_SAE, MIXED -> switch (rangeKind(code)) {
                case LOST_COMMUNICATION -> code.letter() == 'U' ? "a module is not heard; which one, the maker's service information says" : UNLISTED;
                case INVALID_DATA -> code.letter() == 'U' ? "a module is heard, but its data fails a check" : UNLISTED;
                case SOFTWARE_INCOMPATIBLE -> code.letter() == 'U' ? "the software of two modules does not fit" : UNLISTED;
                case BUS -> code.letter() == 'U' ? "a fault of the network itself" : UNLISTED;
                default -> UNLISTED;
            };
        };
    }

    private static final String UNLISTED = "not in the tables here: the maker's service information has its meaning";

    private static CodeKind plainKind(TroubleCode code) {
        return isLowSupply(code) ? CodeKind.LOW_SUPPLY : isChargeAir(code) ? CodeKind.CHARGE_AIR : CodeKind.OTHER;
    }

    private static CodeMeaning j1939(J1939Code code) {
        String mode = CodeTables.failureMode(code.fmi()).map(CodeTables.Row::meaning).orElse("reserved");
        if (code.spn().isEmpty()) {
            return new CodeMeaning(isCommunication(code) ? "network" : "unknown", networkKind(code, CodeKind.OTHER), List.of(), OptionalInt.empty(),
                    false,
                    sentence("the sender's old way of numbering leaves more than one parameter possible; " + mode), J1939);
        }
        int spn = code.spn().getAsInt();
        if (spn >= FIRST_ADDRESS_SPN && spn <= LAST_ADDRESS_SPN) {
            return address(code, spn - FIRST_ADDRESS_SPN, mode);
        }
        Optional<CodeTables.Row> row = CodeTables.parameter(spn);
        String meaning = sentence(row.map(CodeTables.Row::meaning).orElse("a parameter that is not in the tables here") + ": " + mode);
        String source = row.map(CodeTables.Row::source).orElse(J1939);
        if (!isCommunication(code)) {
            String system = row.map(CodeTables.Row::system).filter(found -> !found.equals("charge-air") || isChargeAir(code)).orElse(
                    row.isPresent() ? "powertrain" : "unknown");
            return new CodeMeaning(system, plainKind(code), List.of(), OptionalInt.empty(), false, meaning, source);
        }
        boolean network = row.map(found -> found.system().equals("network")).orElse(false);
        return new CodeMeaning("network", network ? CodeKind.BUS : networkKind(code, CodeKind.BUS),
                network ? List.of() : row.map(CodeTables.Row::names).orElse(List.of()), OptionalInt.empty(), false, meaning, source);
    }

    private static CodeMeaning address(J1939Code code, int address, String mode) {
        Optional<CodeTables.Row> row = CodeTables.address(address);
        String who = row.map(CodeTables.Row::meaning).orElse("a module without a standard name");
        boolean communication = isCommunication(code);
        return new CodeMeaning(communication ? "network" : "unknown", networkKind(code, CodeKind.OTHER),
                row.map(CodeTables.Row::names).orElse(List.of()),
                OptionalInt.of(address), false, sentence("the module at address " + address + ", " + who + ": " + mode),
                row.map(CodeTables.Row::source).orElse(J1939));
    }

    private static CodeKind networkKind(J1939Code code, CodeKind otherwise) {
        return switch (code.fmi()) {
            case UPDATE_RATE -> CodeKind.LOST_COMMUNICATION;
            case DATA_IN_ERROR -> CodeKind.INVALID_DATA;
            default -> otherwise;
        };
    }

    private static String sentence(String words) {
        return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1) + ".";
    }
}
