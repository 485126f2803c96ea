package comebackledger.code;

import comebackledger.Require;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;

/**
 * Puts together the segmented messages of SAE J1939-21, as somebody who only listens: broadcasts (BAM) and point-to-point messages
 * (RTS, CTS, end, abort), kept apart by network, sender and destination. Layout and times from memory of the standard.
 */
final class J1939Transport {
    static final int CONNECTION_GROUP = 0xEC00;
    static final int DATA_GROUP = 0xEB00;

    private static final int BROADCAST = 0x20;
    private static final int REQUEST_TO_SEND = 0x10;
    private static final int CLEAR_TO_SEND = 0x11;
    private static final int END_OF_MESSAGE = 0x13;
    private static final int ABORT = 0xFF;
    private static final int MIN_SIZE = 9; // what fits one frame is sent in one
    private static final int MAX_SIZE = 1785; // 255 packets of 7 bytes
    private static final int PACKET = 7;
    private static final long T1_MICROS = 750_000; // between two packets
    private static final long T2_MICROS = 1_250_000; // from a clearance, or the request, to the next packet

    /** A frame, where it stands, and when it was seen if the source says so. */
    record Heard(int place, OptionalLong micros, Optional<String> network, J1939Identifier identifier) {}

    /** Told of what is whole and of what is broken. */
    interface Listener {
        void whole(Heard last, int parameterGroup, byte[] message);

        void broken(int place, Why why, String detail);
    }

    private record Key(Optional<String> network, int sender, int destination) {}

    private static final class Message {
        private final int parameterGroup;
        private final byte[] bytes;
        private final int packets;
        private int next = 1;
        private int lastPlace;
        private OptionalLong lastMicros;
        private long patienceMicros;

        Message(int parameterGroup, int size, Heard start, long patienceMicros) {
            this.parameterGroup = parameterGroup;
            this.bytes = new byte[size];
            this.packets = packetsOf(size);
            this.lastPlace = start.place();
            this.lastMicros = start.micros();
            this.patienceMicros = patienceMicros;
        }
    }

    private final Limits limits;
    private final Listener listener;
    private final Map<Key, Message> open = new LinkedHashMap<>();
    /** Senders whose message broke: the rest of it is passed over. */
    private final Set<Key> broken = new LinkedHashSet<>();

    J1939Transport(Limits limits, Listener listener) {
        this.limits = limits;
        this.listener = listener;
    }

    void connection(Heard heard, byte[] data) {
        if (data.length < 8) {
            listener.broken(heard.place(), Why.LENGTH, "A connection frame has 8 bytes.");
            return;
        }
        Key forth = new Key(heard.network(), heard.identifier().sourceAddress(), heard.identifier().destination());
        Key back = new Key(heard.network(), heard.identifier().destination(), heard.identifier().sourceAddress());
        switch (data[0] & 0xFF) {
            case BROADCAST, REQUEST_TO_SEND -> start(forth, heard, data);
            case CLEAR_TO_SEND -> clear(back, heard, data);
            case END_OF_MESSAGE -> end(back, data);
            case ABORT -> abort(matching(forth, data).isPresent() ? forth : back, heard, data);
            default -> { /* Reserved control bytes say nothing of a message. */ }
        }
    }

    private void start(Key key, Heard heard, byte[] data) {
        int size = data[1] & 0xFF | (data[2] & 0xFF) << 8;
        int group = group(data, 5);
        boolean broadcast = (data[0] & 0xFF) == BROADCAST;
        Message before = open.remove(key);
        boolean repeatedRequest = before != null && !broadcast && before.next == 1 && before.parameterGroup == group && before.bytes.length == size;
        if (before != null && !repeatedRequest) {
            incomplete(before);
        }
        if (size < MIN_SIZE || size > MAX_SIZE || (data[3] & 0xFF) != packetsOf(size)) {
            breakOff(key, heard.place(), Why.LENGTH, "A segmented message has 9 to 1785 bytes in packets of 7, and its two counts must agree.");
            return;
        }
        broken.remove(key);
        makeRoom();
        open.put(key, new Message(group, size, heard, broadcast ? T1_MICROS : T2_MICROS));
    }

    private void clear(Key key, Heard heard, byte[] data) {
        matching(key, data).ifPresent(message -> {
            int next = data[2] & 0xFF;
            if ((data[1] & 0xFF) > 0 && next >= 1 && next < message.next) {
                message.next = next;
            }
            message.lastMicros = heard.micros();
            message.patienceMicros = T2_MICROS;
        });
    }

    private void end(Key key, byte[] data) {
        matching(key, data).ifPresent(message -> {
            open.remove(key);
            incomplete(message);
        });
    }

    private void abort(Key key, Heard heard, byte[] data) {
        matching(key, data).ifPresent(_ -> {
            open.remove(key);
            breakOff(key, heard.place(), Why.ABORTED, "One side ended the message before it was whole.");
        });
    }

    void data(Heard heard, byte[] data) {
        Key key = new Key(heard.network(), heard.identifier().sourceAddress(), heard.identifier().destination());
        Message message = open.get(key);
        if (message == null) {
            if (!broken.contains(key)) {
                breakOff(key, heard.place(), Why.SEQUENCE, "This segment has no start before it.");
            }
            return;
        }
        int from = (message.next - 1) * PACKET;
        int needed = Math.min(PACKET, message.bytes.length - from);
        Optional<Why> fault = fault(message, heard, data, needed);
        if (fault.isPresent()) {
            open.remove(key);
            breakOff(key, heard.place(), fault.get(), detail(fault.get()));
            return;
        }
        System.arraycopy(data, 1, message.bytes, from, needed);
        message.next++;
        message.lastPlace = heard.place();
        message.lastMicros = heard.micros();
        message.patienceMicros = T1_MICROS;
        if (message.next > message.packets) {
            open.remove(key);
            listener.whole(heard, message.parameterGroup, message.bytes);
        }
    }

    private static Optional<Why> fault(Message message, Heard heard, byte[] data, int needed) {
        boolean timed = heard.micros().isPresent() && message.lastMicros.isPresent();
        if (timed && heard.micros().getAsLong() - message.lastMicros.getAsLong() > message.patienceMicros) {
            return Optional.of(Why.TIMEOUT);
        }
        if (data.length == 0 || data.length - 1 < needed) {
            return Optional.of(Why.LENGTH);
        }
        return (data[0] & 0xFF) == message.next ? Optional.empty() : Optional.of(Why.SEQUENCE);
    }

    private static String detail(Why why) {
        return switch (why) {
            case TIMEOUT -> "The segment came later than 750 ms after the one before it, or 1250 ms after the clearance to send.";
            case LENGTH -> "The segment is shorter than the rest of its message.";
            default -> "The segment is not the next one of its message.";
        };
    }

    /** At the end of the source: what is still open will never be whole. */
    void finish() {
        open.values().forEach(this::incomplete);
        open.clear();
    }

    private void incomplete(Message message) {
        listener.broken(message.lastPlace, Why.INCOMPLETE, "The message ended before its last segment; this is the last one seen.");
    }

    private void breakOff(Key key, int place, Why why, String detail) {
        listener.broken(place, why, detail);
        broken.add(key);
        if (broken.size() > limits.maxOpenMessages()) {
            dropFirst(broken.iterator());
        }
    }

    private void makeRoom() {
        if (open.size() >= limits.maxOpenMessages()) {
            incomplete(dropFirst(open.values().iterator()));
        }
    }

    private static <T> T dropFirst(Iterator<T> iterator) {
        T first = iterator.next();
        iterator.remove();
        return first;
    }

    private Optional<Message> matching(Key key, byte[] data) {
        return Optional.ofNullable(open.get(key)).filter(message -> message.parameterGroup == group(data, 5));
    }

    static int group(byte[] data, int from) {
        Require.that(data.length >= from + 3, "a parameter group has three bytes from %s", from);
        return data[from] & 0xFF | (data[from + 1] & 0xFF) << 8 | (data[from + 2] & 0xFF) << 16;
    }

    private static int packetsOf(int size) {
        return (size + PACKET - 1) / PACKET;
    }
}
