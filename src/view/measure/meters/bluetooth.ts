/**
 * A meter over Bluetooth Low Energy that sends its readings as notifications of one characteristic, as text. Which service and
 * characteristic that are stands in the meter's papers; nothing is assumed of a maker's protocol.
 */
import { type ConnectedMeter, lineFeed } from "./connected.ts";

/** Undefined where the browser has no Web Bluetooth. */
export function browserBluetooth(): Bluetooth | undefined {
  return globalThis.navigator?.bluetooth;
}

const SHORT = /^(?:0x)?([0-9a-f]{4}|[0-9a-f]{8})$/iu;
const LONG = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/iu;

/** A UUID as browsers want it, from a whole one or from the short form that papers print (16 or 32 bits); undefined for neither. */
export function uuidOf(typed: string): string | undefined {
  const text = typed.trim().toLowerCase();
  if (LONG.test(text)) return text;
  const [, short] = SHORT.exec(text) ?? [];
  // The short forms stand for the base UUID of the Bluetooth Core Specification, volume 3, part B, 2.5.1.
  return short === undefined ? undefined : `${short.padStart(8, "0")}-0000-1000-8000-00805f9b34fb`;
}

/** A notification without a line's end is a reading of its own once nothing has followed it for so long [ms]. */
const QUIET_MS = 120;

/**
 * A Bluetooth meter. `open` lets the person choose the device, which the browser only allows upon a click or key, and rejects where
 * none is chosen or it has no such service.
 *
 * @param service as {@link uuidOf} gives it
 */
export function bluetoothMeter(
  bluetooth: Bluetooth,
  service: string,
  characteristic: string,
  name: string,
): ConnectedMeter {
  const lines = lineFeed();
  let device: BluetoothDevice | undefined;
  let source: BluetoothCharacteristic | undefined;
  let quiet: ReturnType<typeof setTimeout> | undefined;

  const hear = (): void => {
    const view = source?.value;
    if (view === undefined) return;
    lines.feed(new Uint8Array(view.buffer, view.byteOffset, view.byteLength));
    clearTimeout(quiet);
    quiet = setTimeout(() => lines.end(), QUIET_MS);
  };
  const left = (): void => {
    clearTimeout(quiet);
    lines.end();
    if (device !== undefined) lines.gone();
    device = undefined;
  };

  return {
    name,
    onReading: lines.onReading,
    onGone: lines.onGone,
    open: async () => {
      const chosen = await bluetooth.requestDevice({ acceptAllDevices: true, optionalServices: [service] });
      const server = await chosen.gatt?.connect();
      const found = await (await server?.getPrimaryService(service))?.getCharacteristic(characteristic);
      if (found === undefined) throw new Error("The device has no such characteristic.");
      source = found;
      device = chosen;
      chosen.addEventListener("gattserverdisconnected", left);
      source.addEventListener("characteristicvaluechanged", hear);
      await source.startNotifications();
    },
    close: async () => {
      const closing = device;
      device = undefined;
      clearTimeout(quiet);
      source?.removeEventListener("characteristicvaluechanged", hear);
      closing?.removeEventListener("gattserverdisconnected", left);
      await source?.stopNotifications().catch(() => undefined);
      closing?.gatt?.disconnect();
      lines.end();
    },
  };
}
