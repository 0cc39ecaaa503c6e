/** What each element's class header says, as the manifest that editors and reference pages read. */
export default {
  globs: ['src/elements/*/*-element.ts'],
  outdir: 'dist',
  litelement: true,
  packagejson: false,
  plugins: [
    {
      name: 'only-what-is-documented',
      packageLinkPhase({ customElementsManifest }) {
        for (const module of customElementsManifest.modules) {
          // Imported from the package, the registration stands beside the class: name what a page imports.
          module.path = module.path.replace(/^src\/(.*)\/([\w-]+)-element\.ts$/, 'elements/$2/cw-$2');
          module.declarations = module.declarations.filter((declaration) => declaration.customElement);
          module.exports = module.exports?.filter((item) => item.name.endsWith('Element'));
          for (const declaration of module.declarations) {
            const open = (member) =>
              member.kind !== 'field' || (member.privacy === undefined && member.description);
            declaration.members = declaration.members?.filter(
              (member) => open(member) && member.privacy === undefined,
            );
            declaration.events = declaration.events?.filter((event) => event.description);
          }
        }
      },
    },
  ],
};
