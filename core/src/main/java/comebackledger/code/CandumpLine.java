package comebackledger.code;

import java.util.Optional;
import java.util.OptionalInt;

/**
 * One line of a {@code candump -l} log: {@code (seconds.fraction) interface identifier#data}, with an optional direction mark. Three
 * identifier digits are 11 bits, eight are 29, whatever the value; the data may be parted by dots.
 * Source: the compact text frame of the SocketCAN utilities, as written in their header file.
 */
final class CandumpLine {
    /** What the line holds. */
    enum Kind {
        DATA, REMOTE, FLEXIBLE, ERROR
    }

    /** The line, or why it is none. */
    sealed interface Read {
        record Line(CandumpLine line) implements Read {}

        record Refused(Why why, String detail) implements Read {}

        /** Nothing on the line. */
        record Blank() implements Read {}
    }

    private static final int ERROR_FLAG = 0x20000000;
    private static final int MAX_INTERFACE_LENGTH = 15; // a Linux interface name has at most 15 characters
    static final int MAX_DATA = 8; // bytes of a classical CAN frame, ISO 11898-1

    private final String time;
    private final String networkInterface;
    private final Frame frame;

    private CandumpLine(String time, String networkInterface, Frame frame) {
        this.time = time;
        this.networkInterface = networkInterface;
        this.frame = frame;
    }

    static Read read(String text) {
        String line = text.strip();
        if (line.isEmpty()) {
            return new Read.Blank();
        }
        int close = line.indexOf(')');
        if (line.charAt(0) != '(' || close < 0 || close + 1 >= line.length() || line.charAt(close + 1) != ' ') {
            return form();
        }
        String[] words = line.substring(close + 1).strip().split("[ \t]+", 4);
        boolean marked = words.length == 3 && (words[2].equals("R") || words[2].equals("T"));
        if (words.length != 2 && !marked || words[1].indexOf('#') < 0) {
            return form();
        }
        String time = line.substring(1, close);
        if (!isTime(time)) {
            return new Read.Refused(Why.TIME, "The time in brackets must be seconds with up to nine decimals, such as 1436509052.249713.");
        }
        if (!isInterface(words[0])) {
            return new Read.Refused(Why.INTERFACE, "The interface must have 1 to 15 letters, digits, dots, colons, underscores or hyphens.");
        }
        return switch (Frame.read(words[1])) {
            case Frame.Read.Refused refused -> new Read.Refused(refused.why(), refused.detail());
            case Frame.Read.Whole whole -> new Read.Line(new CandumpLine(time, words[0], whole.frame()));
        };
    }

    private static Read form() {
        return new Read.Refused(Why.FORM, "The line must read (seconds) interface identifier#data, such as (1.5) can0 18FECA00#04FF66000203FFFF.");
    }

    /** Up to 12 digits of seconds and 9 of a fraction, so that microseconds fit a long. */
    private static boolean isTime(String text) {
        int point = text.indexOf('.');
        String seconds = point < 0 ? text : text.substring(0, point);
        String fraction = point < 0 ? "0" : text.substring(point + 1);
        return isDigits(seconds, 12) && isDigits(fraction, 9);
    }

    private static boolean isDigits(String text, int atMost) {
        return !text.isEmpty() && text.length() <= atMost && text.chars().allMatch(c -> c >= '0' && c <= '9');
    }

    private static boolean isInterface(String text) {
        return text.length() <= MAX_INTERFACE_LENGTH
                && text.chars().allMatch(c -> c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || "._:-".indexOf(c) >= 0);
    }

    String time() {
        return time;
    }

    long micros() {
        int point = time.indexOf('.');
        long seconds = Long.parseLong(point < 0 ? time : time.substring(0, point));
        String fraction = point < 0 ? "" : time.substring(point + 1);
        return seconds * 1_000_000 + Long.parseLong((fraction + "000000").substring(0, 6));
    }

    String networkInterface() {
        return networkInterface;
    }

    Frame frame() {
        return frame;
    }

    /** A frame as {@code identifier#data}. */
    static final class Frame {
        /** The frame, or why it is none. */
        sealed interface Read {
            record Whole(Frame frame) implements Read {}

            record Refused(Why why, String detail) implements Read {}
        }

        private final String identifier;
        private final Kind kind;
        private final byte[] data;
        private final OptionalInt remoteLength;

        private Frame(String identifier, Kind kind, byte[] data, OptionalInt remoteLength) {
            this.identifier = identifier;
            this.kind = kind;
            this.data = data;
            this.remoteLength = remoteLength;
        }

        static Read read(String text) {
            int hash = text.indexOf('#');
            if (hash < 0) {
                return new Read.Refused(Why.FORM, "A frame must read identifier#data, such as 7E8#0443010128AAAAAA.");
            }
            String identifier = text.substring(0, hash);
            if (!isIdentifier(identifier)) {
                return new Read.Refused(Why.IDENTIFIER,
                        "The identifier must have three hexadecimal digits up to 7FF, or eight up to 1FFFFFFF.");
            }
            String data = text.substring(hash + 1);
            boolean error = identifier.length() == 8 && (Integer.parseInt(identifier, 16) & ERROR_FLAG) != 0;
            if (error || data.startsWith("#")) {
                return new Read.Whole(new Frame(identifier, error ? Kind.ERROR : Kind.FLEXIBLE, new byte[0], OptionalInt.empty()));
            }
            return data.startsWith("R") || data.startsWith("r") ? remote(identifier, data.substring(1)) : data(identifier, data);
        }

        private static Read remote(String identifier, String length) {
            if (length.isEmpty() || length.length() == 1 && length.charAt(0) >= '0' && length.charAt(0) <= '8') {
                int asked = length.isEmpty() ? 0 : length.charAt(0) - '0';
                return new Read.Whole(new Frame(identifier, Kind.REMOTE, new byte[0], OptionalInt.of(asked)));
            }
            return new Read.Refused(Why.LENGTH, "The length of a remote frame must be one digit from 0 to 8.");
        }

        private static Read data(String identifier, String text) {
            Hex hex = Hex.read(text, ".");
            Optional<Why> fault = hex.fault();
            if (fault.isPresent()) {
                return new Read.Refused(fault.get(), Hex.detail(fault.get()));
            }
            if (hex.bytes().length > MAX_DATA) {
                return new Read.Refused(Why.LENGTH, "A frame has at most 8 bytes of data.");
            }
            return new Read.Whole(new Frame(identifier, Kind.DATA, hex.bytes(), OptionalInt.empty()));
        }

        private static boolean isIdentifier(String text) {
            if (!Hex.isHex(text, 0, text.length())) {
                return false;
            }
            return text.length() == 3 && Integer.parseInt(text, 16) <= 0x7FF
                    || text.length() == 8 && Long.parseLong(text, 16) <= 0x3FFFFFFFL;
        }

        String identifier() {
            return identifier;
        }

        boolean extended() {
            return identifier.length() == 8;
        }

        int identifierNumber() {
            return Integer.parseInt(identifier, 16);
        }

        Kind kind() {
            return kind;
        }

        byte[] data() {
            return data;
        }

        OptionalInt remoteLength() {
            return remoteLength;
        }
    }
}
