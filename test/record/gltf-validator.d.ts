/** What the tests use of Khronos' validator, which comes without types. */
declare module "gltf-validator" {
  export interface Report {
    readonly mimeType: string;
    readonly issues: {
      readonly numErrors: number;
      readonly numWarnings: number;
      readonly messages: readonly {
        readonly code: string;
        readonly message: string;
        readonly severity: number;
      }[];
    };
    readonly info: { readonly version: string; readonly drawCallCount: number };
  }
  export function validateBytes(data: Uint8Array, options?: object): Promise<Report>;
}
