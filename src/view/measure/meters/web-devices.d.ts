/** The parts of Web Serial and Web Bluetooth that meters are read by; TypeScript's own library doesn't have them. */

interface SerialPort extends EventTarget {
  readonly readable: ReadableStream<Uint8Array> | null;
  open(options: { baudRate: number }): Promise<void>;
  close(): Promise<void>;
}

interface Serial {
  requestPort(): Promise<SerialPort>;
}

interface BluetoothCharacteristic extends EventTarget {
  readonly value: DataView | undefined;
  startNotifications(): Promise<BluetoothCharacteristic>;
  stopNotifications(): Promise<BluetoothCharacteristic>;
}

interface BluetoothService {
  getCharacteristic(uuid: string): Promise<BluetoothCharacteristic>;
}

interface BluetoothServer {
  connect(): Promise<BluetoothServer>;
  disconnect(): void;
  getPrimaryService(uuid: string): Promise<BluetoothService>;
}

interface BluetoothDevice extends EventTarget {
  readonly name: string | undefined;
  readonly gatt: BluetoothServer | undefined;
}

interface Bluetooth {
  requestDevice(options: {
    acceptAllDevices: true;
    optionalServices: readonly string[];
  }): Promise<BluetoothDevice>;
}

interface Navigator {
  readonly serial?: Serial;
  readonly bluetooth?: Bluetooth;
}
