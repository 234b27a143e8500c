// What House says of reaching the household's server from another phone. README has the same
// under "Reaching a server at home from a phone"; change both.

export const reach = {
  title: 'Bring another phone here',
  /** @param {string} name the server's, such as ledge.local */
  intro: (name) => `This household vouches for its own server. Each phone must be told once to trust it. That trust goes as far as ${name} and no further.`,
  /** @param {string} address http://NAME:PORT/authority.crt, with the port of https, also 443 */
  fetch: (address) => `On the new phone, join the home network and open ${address}. Save what it offers.`,
  compare: 'Compare the fingerprint that the new phone shows with this one. If they differ, stop: somebody is in between.',
  fingerprintLabel: 'SHA-256 fingerprint',
  fingerprintElsewhere: 'The fingerprint also stands on the server’s screen when it starts.',
  trust: 'Then tell the new phone to trust it:',
  /** Steps by kind of device, in the order in which they are shown. */
  devices: [
    {
      name: 'iPhone, iPad',
      /** @param {string} name */
      steps: (name) => [
        'Use Safari. Open Settings, then Profile Downloaded.',
        'More Details shows the fingerprint. If it is the same, install it.',
        `Settings, General, About, Certificate Trust Settings: turn on “Wrackbook at ${name}”.`,
      ],
    },
    {
      name: 'Android',
      /** @param {string} _name */
      steps: (_name) => [
        'Use Chrome. Open Settings and search for “CA certificate”.',
        'Install anyway, and choose the file authority.crt.',
        'Trusted credentials, User, shows the fingerprint. If it differs, remove it again.',
        'Android may say that the network is monitored. This one can monitor nothing but its own name.',
      ],
    },
    {
      name: 'Windows',
      /** @param {string} _name */
      steps: (_name) => [
        'In a command window, certutil -dump authority.crt shows the fingerprint as Cert Hash(sha256).',
        'Open the file, Install Certificate, Current User.',
        'Choose the store Trusted Root Certification Authorities.',
      ],
    },
    {
      name: 'macOS',
      /** @param {string} _name */
      steps: (_name) => [
        'Open the file. Keychain Access takes it in and shows the fingerprint.',
        'Open it there, and under Trust choose Always Trust.',
      ],
    },
    {
      name: 'Linux, Chromium',
      /** @param {string} _name */
      steps: (_name) => ['certutil -d sql:$HOME/.pki/nssdb -A -t C,, -n Wrackbook -i authority.crt'],
    },
    {
      name: 'Firefox on a computer',
      /** @param {string} _name */
      steps: (_name) => [
        'Settings, Certificates, View Certificates, Authorities, Import.',
        'View shows the fingerprint. Tick “identify websites”.',
      ],
    },
  ],
  /** @param {string} url https://… */
  last: (url) => `Now open ${url} on the new phone and join.`,
  notFound: 'Does the phone not find that name? Some do not know names that end in .local. Have the router always give the server the same address, and start the server with that address.',
  menusDiffer: 'Menus differ from maker to maker. Search the settings for “certificate”.',
};
