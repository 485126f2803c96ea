package comebackledger.code;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * Puts together the answers of ISO 15765-2 (layout from memory) out of frames {@code identifier#data}, kept apart by identifier.
 * What a tester sends (requests, flow control) is no answer and is passed over.
 */
final class IsoTransport {
    private static final int MAX_SINGLE = 7;

    /** @param at the frame it began in */
    record Answer(String identifier, int at, byte[] payload) {}

    private static final class Message {
        private final byte[] bytes;
        private final int startedAt;
        private int have;
        private int next = 1;
        private int lastAt;

        Message(int size, int at) {
            this.bytes = new byte[size];
            this.startedAt = at;
            this.lastAt = at;
        }
    }

    private final Limits limits;
    private final Map<String, Message> open = new LinkedHashMap<>();
    /** Senders whose answer broke: the rest of it is passed over. */
    private final Set<String> broken = new LinkedHashSet<>();
    private final List<Answer> answers = new ArrayList<>();
    private final CodeReport.Builder report;

    private IsoTransport(Limits limits, CodeReport.Builder report) {
        this.limits = limits;
        this.report = report;
    }

    /** The whole answers, in the order in which they became whole; what is broken is rejected in the report. */
    static List<Answer> read(List<String> frames, Limits limits, CodeReport.Builder report) {
        IsoTransport transport = new IsoTransport(limits, report);
        for (int i = 0; i < frames.size(); i++) {
            switch (CandumpLine.Frame.read(frames.get(i).strip())) {
                case CandumpLine.Frame.Read.Refused refused -> report.reject(Rejection.at(i, refused.why(), refused.detail()));
                case CandumpLine.Frame.Read.Whole whole -> transport.accept(i, whole.frame());
            }
        }
        transport.open.values().forEach(transport::incomplete);
        return transport.answers;
    }

    private void accept(int at, CandumpLine.Frame frame) {
        if (frame.kind() != CandumpLine.Kind.DATA || isFromTester(frame)) {
            return;
        }
        byte[] data = frame.data();
        if (data.length == 0) {
            report.reject(Rejection.at(at, Why.LENGTH, "The frame has no data; the first byte says what kind of frame it is."));
            return;
        }
        String identifier = frame.identifier().toUpperCase(Locale.ROOT);
        switch (data[0] >>> 4 & 0xF) {
            case 0 -> single(identifier, at, data);
            case 1 -> first(identifier, at, data);
            case 2 -> consecutive(identifier, at, data);
            case 3 -> { /* Flow control. */ }
            default ->
                report.reject(Rejection.at(at, Why.FORM, "The first byte must begin with 0, 1, 2 or 3 (single, first, consecutive, flow control)."));
        }
    }

    /** ISO 15765-4: 7DF and 7E0 to 7E7 with 11 bits, 18DB33F1 and 18DAxxF1 with 29 (from memory). */
    private static boolean isFromTester(CandumpLine.Frame frame) {
        int number = frame.identifierNumber();
        return frame.extended()
                ? number == 0x18DB33F1 || (number & 0x1FFF00FF) == 0x18DA00F1
                : number == 0x7DF || number >= 0x7E0 && number <= 0x7E7;
    }

    private void single(String identifier, int at, byte[] data) {
        endBefore(identifier);
        int size = data[0] & 0xF;
        if (size == 0 || size > MAX_SINGLE || size > data.length - 1) {
            report.reject(Rejection.at(at, Why.LENGTH, "A single frame says its length, from 1 to 7, and must hold as many bytes after it."));
            return;
        }
        broken.remove(identifier);
        answers.add(new Answer(identifier, at, Arrays.copyOfRange(data, 1, 1 + size)));
    }

    private void first(String identifier, int at, byte[] data) {
        endBefore(identifier);
        int size = data.length < 2 ? 0 : (data[0] & 0xF) << 8 | data[1] & 0xFF;
        if (data.length < CandumpLine.MAX_DATA || size <= MAX_SINGLE) {
            breakOff(identifier, at, Why.LENGTH, "A first frame has 8 bytes and announces 8 to 4095.");
            return;
        }
        broken.remove(identifier);
        if (open.size() >= limits.maxOpenMessages()) {
            Iterator<Message> eldest = open.values().iterator();
            incomplete(eldest.next());
            eldest.remove();
        }
        Message message = new Message(size, at);
        System.arraycopy(data, 2, message.bytes, 0, data.length - 2);
        message.have = data.length - 2;
        open.put(identifier, message);
    }

    private void consecutive(String identifier, int at, byte[] data) {
        Message message = open.get(identifier);
        if (message == null) {
            if (!broken.contains(identifier)) {
                breakOff(identifier, at, Why.SEQUENCE, "This segment has no first frame before it.");
            }
            return;
        }
        int needed = Math.min(CandumpLine.MAX_DATA - 1, message.bytes.length - message.have);
        boolean inOrder = (data[0] & 0xF) == message.next;
        if (!inOrder || data.length - 1 < needed) {
            open.remove(identifier);
            breakOff(identifier, at, inOrder ? Why.LENGTH : Why.SEQUENCE,
                    inOrder ? "The segment is shorter than the rest of its message." : "The segment is not the next one of its message.");
            return;
        }
        System.arraycopy(data, 1, message.bytes, message.have, needed);
        message.have += needed;
        message.next = message.next + 1 & 0xF;
        message.lastAt = at;
        if (message.have == message.bytes.length) {
            open.remove(identifier);
            answers.add(new Answer(identifier, message.startedAt, message.bytes));
        }
    }

    /** A sender that begins anew has given up what it had begun. */
    private void endBefore(String identifier) {
        Message before = open.remove(identifier);
        if (before != null) {
            incomplete(before);
        }
    }

    private void incomplete(Message message) {
        report.reject(Rejection.at(message.lastAt, Why.INCOMPLETE, "The answer ended before its last segment; this is the last one seen."));
    }

    private void breakOff(String identifier, int at, Why why, String detail) {
        report.reject(Rejection.at(at, why, detail));
        broken.add(identifier);
        if (broken.size() > limits.maxOpenMessages()) {
            Iterator<String> eldest = broken.iterator();
            eldest.next();
            eldest.remove();
        }
    }
}
