package comebackledger.code;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/** The codes and lamps of every sender, folded over its messages: one code of one sender once, with its last count. */
final class SenderCodes {
    /** A module on one network: the same address on two networks is two modules. */
    record Sender(Optional<String> networkInterface, OptionalInt sourceAddress) {}

    private record Key(Sender sender, J1939Code code) {}

    private static final class Lamps {
        private Optional<DmLamps> ofDm1 = Optional.empty();
        private Optional<DmLamps> ofDm2 = Optional.empty();
        private int dm1Count;
    }

    private static final class Seen {
        private boolean inDm1;
        private int lastDm1;
        private OptionalInt occurrences = OptionalInt.empty();
        private Optional<DmLamps> lamps = Optional.empty();
    }

    private final Limits limits;
    private final Map<Sender, Lamps> senders = new LinkedHashMap<>();
    private final Map<Key, Seen> codes = new LinkedHashMap<>();

    SenderCodes(Limits limits) {
        this.limits = limits;
    }

    /** False if there was no more room for some of it. */
    boolean add(Sender sender, DmKind kind, DmMessage message) {
        if (!senders.containsKey(sender) && senders.size() >= limits.maxCodes()) {
            return false;
        }
        Lamps lamps = senders.computeIfAbsent(sender, _ -> new Lamps());
        if (kind == DmKind.DM1) {
            lamps.ofDm1 = message.lamps().or(() -> lamps.ofDm1);
            // A message cut short does not say which codes are gone.
            lamps.dm1Count += message.cutAt().isEmpty() ? 1 : 0;
        } else {
            lamps.ofDm2 = message.lamps().or(() -> lamps.ofDm2);
        }
        boolean room = true;
        for (DmCode code : message.codes()) {
            Key key = new Key(sender, code.code());
            if (!codes.containsKey(key) && codes.size() >= limits.maxCodes()) {
                room = false;
                continue;
            }
            Seen seen = codes.computeIfAbsent(key, _ -> new Seen());
            seen.occurrences = code.occurrences().isPresent() ? code.occurrences() : seen.occurrences;
            seen.lamps = message.lamps();
            if (kind == DmKind.DM1) {
                seen.inDm1 = true;
                seen.lastDm1 = lamps.dm1Count;
            }
        }
        return room;
    }

    void into(CodeReport.Builder report) {
        codes.forEach((key, seen) -> report.code(seenCode(key, seen)));
        senders.forEach((sender, lamps) -> lamps.ofDm1.or(() -> lamps.ofDm2).ifPresent(
                shown -> report.lamps(new CodeReport.SenderLamps(sender.sourceAddress(), sender.networkInterface(), shown))));
    }

    private SeenCode seenCode(Key key, Seen seen) {
        Lamps lamps = senders.get(key.sender());
        boolean atEnd = lamps != null && seen.lastDm1 == lamps.dm1Count;
        return new SeenCode(key.code(), Optional.of(seen.inDm1 ? CodeState.ACTIVE : CodeState.STORED), seen.occurrences, key.sender().sourceAddress(),
                Optional.empty(), key.sender().networkInterface(), seen.inDm1 ? Optional.of(atEnd) : Optional.empty(), seen.lamps);
    }
}
